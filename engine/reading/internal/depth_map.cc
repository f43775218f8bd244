#include "engine/reading/internal/depth_map.h"

#include <cmath>

namespace petalproof {
namespace {

using Lanes = FourFloats;
using LaneMask = FourInts;
constexpr int lanes = 4;

Lanes load(const float* from) {
  Lanes values;
  __builtin_memcpy(&values, from, sizeof values);
  return values;
}

void store(const Lanes& values, float* to) { __builtin_memcpy(to, &values, sizeof values); }

// A triangle's edge upwards: where it crosses a row's middle line.
struct Edge {
  float x0;
  float per_y;
  Edge(const glm::vec3& low, const glm::vec3& high) {
    const float rise = high.y - low.y;
    per_y = rise > 0 ? (high.x - low.x) / rise : 0;
    x0 = low.x - per_y * low.y;
  }
  float at(float y) const { return x0 + per_y * y; }
};

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

bool DepthMap::mayShow(const TriangleSoup::Part& part, const RayFrame& frame, const RayBox& box) const {
  const glm::vec2 middle(frame.of(part.middle));
  const float reach = part.radius_mm + 2 / cells_per_mm_;
  return middle.x + reach > box.min_mm.x && middle.x - reach < box.max_mm.x &&
         middle.y + reach > box.min_mm.y && middle.y - reach < box.max_mm.y;
}

void DepthMap::draw(const TriangleSoup& soup, const RayFrame& frame, const RayBox& box, float cell_mm) {
  cells_per_mm_ = 1 / cell_mm;
  left_ = floored(box.min_mm.x * cells_per_mm_);
  bottom_ = floored(box.min_mm.y * cells_per_mm_);
  columns_ = floored(box.max_mm.x * cells_per_mm_) + 1 - left_;
  rows_ = floored(box.max_mm.y * cells_per_mm_) + 1 - bottom_;
  stride_ = columns_ + lanes;  // spans are written by whole groups of lanes
  depths_.assign(static_cast<std::size_t>(stride_) * static_cast<std::size_t>(rows_), nothing);
  cells_.resize(soup.vertices.size());
  for (const TriangleSoup::Part& part : soup.parts) {
    if (!mayShow(part, frame, box)) continue;
    for (std::size_t k = part.first_vertex; k < part.end_vertex; ++k) {
      const glm::vec3 p = frame.of(soup.vertices[k]);
      cells_[k] = {p.x * cells_per_mm_, p.y * cells_per_mm_, p.z};
    }
    for (std::size_t k = part.first_triangle; k < part.end_triangle; ++k) {
      const auto& [a, b, c] = soup.triangles[k];
      drawTriangle({cells_[a], cells_[b], cells_[c]});
    }
  }
}

void DepthMap::drawTriangle(std::array<glm::vec3, 3> c) {
  sortUpwards(c);
  const int first_row = std::max(firstMiddleFrom(c[0].y), bottom_);
  const int end_row = std::min(firstMiddleFrom(c[2].y), bottom_ + rows_);
  if (first_row >= end_row) return;
  const glm::vec3 e = c[1] - c[0];
  const glm::vec3 f = c[2] - c[0];
  const float area = e.x * f.y - f.x * e.y;
  // Seen edge-on there is nothing to see, and nothing to divide by.
  if (std::abs(area) < 1e-4F * (std::abs(e.x * f.y) + std::abs(f.x * e.y))) return;
  const float per_x = (e.z * f.y - f.z * e.y) / area;
  const float per_y = (e.x * f.z - f.x * e.z) / area;
  const float at_origin = c[0].z - per_x * (c[0].x - 0.5F) - per_y * c[0].y;
  const Edge whole(c[0], c[2]);
  const Edge lower(c[0], c[1]);
  const Edge upper(c[1], c[2]);
  const int middle_row = std::clamp(firstMiddleFrom(c[1].y), first_row, end_row);
  const auto drawRows = [&](int from, int to, const Edge& left, const Edge& right) {
    for (int row = from; row < to; ++row) {
      const float y = static_cast<float>(row) + 0.5F;
      drawSpan(row, left.at(y), right.at(y), at_origin + per_y * y, per_x);
    }
  };
  const bool bends_right = area > 0;
  drawRows(first_row, middle_row, bends_right ? whole : lower, bends_right ? lower : whole);
  drawRows(middle_row, end_row, bends_right ? whole : upper, bends_right ? upper : whole);
}

// No branch but one a group of lanes: short spans of ever other lengths are what there is most of.
void DepthMap::drawSpan(int row, float from, float to, float at_0, float per_x) {
  const int first = std::clamp(firstMiddleFrom(from), left_, left_ + columns_);
  int left = std::min(firstMiddleFrom(to), left_ + columns_) - first;
  float* depths = depths_.data() + static_cast<std::ptrdiff_t>(row - bottom_) * stride_ + (first - left_);
  const float z0 = at_0 + per_x * static_cast<float>(first);
  Lanes z = z0 + per_x * Lanes{0, 1, 2, 3};
  const float step = per_x * lanes;
  do {
    const Lanes there = load(depths);
    const LaneMask higher = (z > there) & (LaneMask{0, 1, 2, 3} < left);
    store(higher ? z : there, depths);
    depths += lanes;
    z += step;
    left -= lanes;
  } while (left > 0);
}

}  // namespace petalproof
