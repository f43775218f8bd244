#include "engine/visibility/internal/order.h"

#include <glm/geometric.hpp>
#include <glm/mat4x4.hpp>

#include <algorithm>
#include <limits>
#include <numeric>

namespace petalproof::visibility {
namespace {

// Distance along the lens axis, less what all vertices of the batch have in common.
float nearestVertex(const TriangleBatch& batch, const RasterView& view) {
  const glm::dmat4x3 transform = view.cameraFromWorld * glm::dmat4(glm::dmat4x3(batch.worldFromBatch));
  const glm::vec3 towards(transform[0].z, transform[1].z, transform[2].z);
  float nearest = -std::numeric_limits<float>::infinity();
  for (const glm::vec3& vertex : batch.vertices) nearest = std::max(nearest, glm::dot(towards, vertex));
  return -(nearest + static_cast<float>(transform[3].z));
}

}  // namespace

std::vector<std::uint32_t> frontToBack(std::span<const TriangleBatch> batches, const RasterView& view,
                                       const Pool& pool) {
  std::vector<float> distances(batches.size());
  pool.forEach(batches.size(), [&](std::size_t k) { distances[k] = nearestVertex(batches[k], view); });
  std::vector<std::uint32_t> order(batches.size());
  std::iota(order.begin(), order.end(), 0U);
  std::sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) {
    return distances[a] < distances[b] || (distances[a] == distances[b] && a < b);
  });
  return order;
}

std::vector<std::size_t> evenRuns(std::span<const TriangleBatch> batches,
                                  std::span<const std::uint32_t> order, std::size_t parts) {
  std::size_t triangles = 0;
  for (const TriangleBatch& batch : batches) triangles += batch.triangles.size();
  std::vector<std::size_t> bounds{0};
  std::size_t before = 0;
  for (std::size_t k = 0; k < order.size(); ++k) {
    before += batches[order[k]].triangles.size();
    if (before * parts >= triangles * bounds.size() && bounds.size() < parts) bounds.push_back(k + 1);
  }
  bounds.push_back(order.size());
  return bounds;
}

}  // namespace petalproof::visibility
