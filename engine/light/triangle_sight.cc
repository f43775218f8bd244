#include "engine/light/triangle_sight.h"

#include "engine/base/picture_memory.h"

#include <glm/geometric.hpp>
#include <glm/matrix.hpp>

#include <algorithm>
#include <array>
#include <atomic>
#include <cmath>

namespace petalproof::light {
namespace {

using CornersFromEye = std::array<glm::dvec3, 3>;

CornersFromEye cornersFromEye(const scene::Scene& scene, std::size_t bloom, std::size_t triangle, int first,
                              const camera::Camera& camera) {
  const scene::BloomInstance& instance = scene.blooms[bloom];
  const scene::Mesh& mesh = scene.meshes[instance.mesh];
  CornersFromEye corners;
  for (std::size_t k = 0; k < 3; ++k) {
    const std::uint32_t v = mesh.triangles[triangle][(k + static_cast<std::size_t>(first)) % 3];
    const glm::vec3 p = instance.wallFromMesh * glm::vec4(mesh.vertices[v], 1.0F);
    corners[k] = glm::dvec3(p) - camera.position.mm;
  }
  return corners;
}

}  // namespace

void TriangleSight::see(const scene::Scene& scene, const camera::Camera& camera,
                        const visibility::VisibilityBuffer& seen, visibility::Rasteriser& rasteriser,
                        const Pool& pool) {
  width_px_ = camera.width_px;
  height_px_ = camera.height_px;
  middle_ = {static_cast<float>(width_px_) / 2, static_cast<float>(height_px_) / 2};
  if (seen.triangles.empty()) draw(scene, camera, rasteriser, pool);
  picture_ = seen.triangles.empty() ? drawn_.data() : seen.triangles.data();
  std::size_t triangles = 0;
  for (const scene::BloomInstance& bloom : scene.blooms)
    triangles += scene.meshes[bloom.mesh].triangles.size();
  seen_.assign(triangles + 1, 0);
  pool.forEach(static_cast<std::size_t>(height_px_),
               [&](std::size_t y) { markSeen(row(static_cast<int>(y))); });
}

void TriangleSight::draw(const scene::Scene& scene, const camera::Camera& camera,
                         visibility::Rasteriser& rasteriser, const Pool& pool) {
  resizePicture(drawn_, static_cast<std::size_t>(width_px_) * static_cast<std::size_t>(height_px_), pool);
  rasteriser.drawTiles(
      visibility::triangleBatchesOf(scene), visibility::rasterViewOf(camera),
      [this](const visibility::FinishedTile& tile) {
        constexpr int tile_px = visibility::FinishedTile::size_px;
        std::array<std::uint32_t, tile_px> ids;
        std::array<float, tile_px> inverse_depths;
        for (int y = tile.y0(); y < std::min(tile.y0() + tile_px, height_px_); ++y) {
          tile.readRow(y - tile.y0(), ids.data(), inverse_depths.data());
          std::copy_n(
              ids.data(), std::min(tile_px, width_px_ - tile.x0()),
              drawn_.data() + static_cast<std::size_t>(y) * static_cast<std::size_t>(width_px_) + tile.x0());
        }
      });
}

void TriangleSight::markSeen(const std::uint32_t* row) {
  std::uint32_t last = 0;
  for (int x = 0; x < width_px_; ++x) {
    if (row[x] == last) continue;
    last = row[x];
    std::atomic_ref<std::uint8_t>(seen_[last]).store(1, std::memory_order_relaxed);
  }
}

std::vector<PaperSide> TriangleSight::sides(const scene::Scene& scene, const camera::Camera& camera,
                                            const SurfaceLight& surfaces) const {
  std::vector<PaperSide> sides;
  for (std::uint32_t bloom = 0; bloom < scene.blooms.size(); ++bloom) {
    const std::uint32_t first = surfaces.firstOf(bloom);
    const std::size_t count = scene.meshes[scene.blooms[bloom].mesh].triangles.size();
    for (std::uint32_t k = 0; k < count; ++k) {
      if (seen_[first + k + 1] == 0) continue;
      const CornersFromEye p = cornersFromEye(scene, bloom, k, 0, camera);
      sides.push_back({bloom, first + k, glm::dot(glm::cross(p[1] - p[0], p[2] - p[0]), p[0]) > 0});
    }
  }
  return sides;
}

void TriangleSight::light(const scene::Scene& scene, const camera::Camera& camera,
                          const SurfaceLight& surfaces, const std::vector<PaperSide>& sides) {
  const glm::dmat3 wallFromCamera = glm::transpose(camera.cameraFromWall);
  const glm::dvec3 to_middle = wallFromCamera * glm::dvec3(0, 0, -1);
  const glm::dvec3 per_u = wallFromCamera * glm::dvec3(1 / camera.focal_px, 0, 0);
  const glm::dvec3 per_v = wallFromCamera * glm::dvec3(0, -1 / camera.focal_px, 0);
  faces_.clear();
  face_of_.resize(surfaces.triangles());
  for (const PaperSide& side : sides) {
    const std::uint32_t local = side.triangle - surfaces.firstOf(side.bloom);
    const CornersFromEye p =
        cornersFromEye(scene, side.bloom, local, surfaces.apexOf(side.bloom, side.triangle), camera);
    const glm::dmat3 opposite(glm::cross(p[1], p[2]), glm::cross(p[2], p[0]), glm::cross(p[0], p[1]));
    const double scale = 1 / std::max(1e-12, std::abs(glm::dot(p[0], opposite[0])));
    face_of_[side.triangle] = static_cast<std::uint32_t>(faces_.size());
    faces_.push_back({glm::vec3(scale * (to_middle * opposite)), glm::vec3(scale * (per_u * opposite)),
                      glm::vec3(scale * (per_v * opposite)), surfaces.netOf(side)});
  }
}

}  // namespace petalproof::light
