#include "engine/reading/internal/depth_map.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace petalproof {
namespace {

struct Span {
  float from = 0;
  float to = 0;
};

// Where the triangle's outline crosses the line y = `y`; corners sorted by y.
Span crossings(const std::array<glm::vec3, 3>& c, float y) {
  const auto on = [y](const glm::vec3& a, const glm::vec3& b) {
    return a.x + (b.x - a.x) * ((y - a.y) / (b.y - a.y));
  };
  const float whole = on(c[0], c[2]);
  const float half = y < c[1].y ? on(c[0], c[1]) : on(c[1], c[2]);
  return {std::min(whole, half), std::max(whole, half)};
}

void sortUpwards(std::array<glm::vec3, 3>& c) {
  if (c[1].y < c[0].y) std::swap(c[0], c[1]);
  if (c[2].y < c[1].y) std::swap(c[1], c[2]);
  if (c[1].y < c[0].y) std::swap(c[0], c[1]);
}

// The first cell whose middle is not before `cells`.
int firstMiddleFrom(float cells) { return -floored(0.5F - cells); }

}  // namespace

RayFrame::RayFrame(const glm::vec3& to_lamp) : towards(glm::normalize(to_lamp)) {
  const glm::vec3 aside = std::abs(towards.y) < 0.9F ? glm::vec3(0, 1, 0) : glm::vec3(1, 0, 0);
  across = glm::normalize(glm::cross(aside, towards));
  up = glm::cross(towards, across);
}

void DepthMap::draw(const TriangleSoup& soup, const RayFrame& frame, const RayBox& box, float cell_mm) {
  cells_per_mm_ = 1 / cell_mm;
  left_ = floored(box.min_mm.x * cells_per_mm_);
  bottom_ = floored(box.min_mm.y * cells_per_mm_);
  columns_ = floored(box.max_mm.x * cells_per_mm_) + 1 - left_;
  rows_ = floored(box.max_mm.y * cells_per_mm_) + 1 - bottom_;
  depths_.assign(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_), nothing);
  cells_.resize(soup.vertices.size());
  for (std::size_t k = 0; k < cells_.size(); ++k) {
    const glm::vec3 p = frame.of(soup.vertices[k]);
    cells_[k] = {p.x * cells_per_mm_, p.y * cells_per_mm_, p.z};
  }
  for (const auto& [a, b, c] : soup.triangles) drawTriangle({cells_[a], cells_[b], cells_[c]});
}

void DepthMap::drawTriangle(const std::array<glm::vec3, 3>& corners) {
  std::array<glm::vec3, 3> c = corners;
  sortUpwards(c);
  const int first_row = std::max(firstMiddleFrom(c[0].y), bottom_);
  const int end_row = std::min(firstMiddleFrom(c[2].y), bottom_ + rows_);
  if (first_row >= end_row) return;
  const glm::vec3 e = c[1] - c[0];
  const glm::vec3 f = c[2] - c[0];
  const float area = e.x * f.y - f.x * e.y;
  if (area == 0) return;
  const float per_x = (e.z * f.y - f.z * e.y) / area;
  const float per_y = (e.x * f.z - f.x * e.z) / area;
  const float least = std::min(std::min(c[0].z, c[1].z), c[2].z);
  const float greatest = std::max(std::max(c[0].z, c[1].z), c[2].z);
  for (int row = first_row; row < end_row; ++row) {
    const float y = static_cast<float>(row) + 0.5F;
    const Span span = crossings(c, y);
    const int from = std::max(firstMiddleFrom(span.from), left_);
    const int end = std::min(firstMiddleFrom(span.to), left_ + columns_);
    float* const depths = depths_.data() + static_cast<std::ptrdiff_t>(row - bottom_) * columns_ - left_;
    const float at_0 = c[0].z + per_y * (y - c[0].y) + per_x * (0.5F - c[0].x);
    for (int x = from; x < end; ++x) {
      const float z = std::min(std::max(at_0 + per_x * static_cast<float>(x), least), greatest);
      depths[x] = std::max(depths[x], z);
    }
  }
}

}  // namespace petalproof
