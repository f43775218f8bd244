#include "tests/visibility/picture_triangles.h"

namespace petalproof::testing {

PictureTriangles::PictureTriangles(int width_px, int height_px) {
  view_.focal_px = 1024;
  view_.principal_px = {width_px / 2.0, height_px / 2.0};
  view_.width_px = width_px;
  view_.height_px = height_px;
}

void PictureTriangles::add(const std::array<glm::dvec2, 3>& corners_px, double depth_mm) {
  std::array<std::uint32_t, 3> triangle{};
  for (std::size_t k = 0; k < 3; ++k) {
    triangle[k] = static_cast<std::uint32_t>(vertices_.size());
    const glm::dvec2 offset = (corners_px[k] - view_.principal_px) * (depth_mm / view_.focal_px);
    vertices_.emplace_back(glm::dvec3(offset.x, -offset.y, -depth_mm));
  }
  triangles_.push_back(triangle);
}

std::vector<visibility::TriangleBatch> PictureTriangles::batches() const {
  return {{vertices_, triangles_, glm::mat4x3(1.0F), 1, true}};
}

std::array<glm::dvec2, 3> PictureTriangles::cornersInPicture(std::size_t triangle) const {
  std::array<glm::dvec2, 3> corners;
  for (std::size_t k = 0; k < 3; ++k) {
    const glm::dvec3 p(vertices_[triangles_[triangle][k]]);
    corners[k] = view_.principal_px + glm::dvec2(p.x, -p.y) * (view_.focal_px / -p.z);
  }
  return corners;
}

}  // namespace petalproof::testing
