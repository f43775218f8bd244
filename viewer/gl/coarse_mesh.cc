#include "viewer/gl/coarse_mesh.h"

#include <glm/common.hpp>
#include <glm/geometric.hpp>
#include <glm/vec3.hpp>

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <tuple>

namespace petalproof::gl {
namespace {

struct Corner {
  std::array<int, 3> cell{};
  float outward = 0;
  std::uint32_t vertex = 0;
};

// The vertex that stands for each.
std::vector<std::uint32_t> standIns(const Mesh& mesh, float cell_mm) {
  std::vector<Corner> corners;
  for (std::uint32_t v = 0; v < mesh.vertices.size(); ++v) {
    const glm::vec3& at = mesh.vertices[v];
    const glm::ivec3 cell(glm::floor(at / cell_mm));
    corners.push_back({{cell.x, cell.y, cell.z}, glm::dot(at, at), v});
  }
  std::sort(corners.begin(), corners.end(), [](const Corner& a, const Corner& b) {
    return std::tie(a.cell, b.outward, a.vertex) < std::tie(b.cell, a.outward, b.vertex);
  });
  std::vector<std::uint32_t> all(corners.size());
  std::size_t first = 0;
  for (std::size_t k = 0; k < corners.size(); ++k) {
    if (corners[k].cell != corners[first].cell) first = k;
    all[corners[k].vertex] = corners[first].vertex;
  }
  return all;
}

}  // namespace

std::vector<Triangle> coarseTriangles(const Mesh& mesh, float cell_mm) {
  if (!(cell_mm > 0)) return mesh.triangles;
  const std::vector<std::uint32_t> stands_for = standIns(mesh, cell_mm);
  std::vector<Triangle> coarse;
  for (const Triangle& t : mesh.triangles) {
    Triangle moved{stands_for[t[0]], stands_for[t[1]], stands_for[t[2]]};
    if (moved[0] == moved[1] || moved[1] == moved[2] || moved[2] == moved[0]) continue;
    // Paper is seen from both sides: the order of the corners means nothing.
    std::sort(moved.begin(), moved.end());
    coarse.push_back(moved);
  }
  std::sort(coarse.begin(), coarse.end());
  coarse.erase(std::unique(coarse.begin(), coarse.end()), coarse.end());
  return 2 * coarse.size() <= mesh.triangles.size() ? coarse : mesh.triangles;
}

}  // namespace petalproof::gl
