#include "engine/gaps/internal/pixel_region.h"

#include <glm/geometric.hpp>
#include "engine/base/segment.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace petalproof::gaps {
namespace {

// Adds the quad a b c d to twice an area and to six times its first moment, both relative to `origin`.
void addQuad(const std::array<glm::dvec2, 4>& quad, glm::dvec2 origin, double& area2, glm::dvec2& moment6) {
  for (std::size_t k = 0; k < 4; ++k) {
    const glm::dvec2 a = quad[k] - origin;
    const glm::dvec2 b = quad[(k + 1) % 4] - origin;
    const double twice = cross(a, b);
    area2 += twice;
    moment6 += (a + b) * twice;
  }
}

// The pixels of a run lie side by side, so together they are a quad on the board, too.
std::array<glm::dvec2, 4> quadOf(const Run& run, const BoardMapping& mapping) {
  return {mapping.board({run.begin, run.row}), mapping.board({run.end, run.row}),
          mapping.board({run.end, run.row + 1}), mapping.board({run.begin, run.row + 1})};
}

}  // namespace

double Footprint::radiusTowards(glm::dvec2 direction) const {
  const double across = glm::dot(half_across_mm, direction);
  const double down = glm::dot(half_down_mm, direction);
  const double length2 = glm::dot(direction, direction);
  return length2 > 0 ? std::sqrt((across * across + down * down) / length2) : 0.0;
}

double Footprint::largestRadius() const {
  const double area = cross(half_across_mm, half_down_mm);
  const double squares = glm::dot(half_across_mm, half_across_mm) + glm::dot(half_down_mm, half_down_mm);
  return std::sqrt((squares + std::sqrt(std::max(0.0, squares * squares - 4 * area * area))) / 2);
}

// With M the matrix whose ellipse is x M^-1 x = 1 and b the place from its centre, the nearest place is
// M (M + t)^-1 b for the t > 0 that puts it on the ellipse. Newton's method on the reciprocal of its size
// comes up to t from below in a few steps (J. Moré, D. Sorensen, "Computing a trust region step", SIAM
// Journal on Scientific and Statistical Computing 4(3), 1983).
double Footprint::distanceTo(glm::dvec2 place) const {
  constexpr double thinnest = 1e-12;  // seen edge-on, an ellipse is this thick at least (square of the share)
  constexpr double near_enough = 1e-9;  // relative
  constexpr int most_steps = 20;        // 3 or 4 do
  const glm::dvec2 b = place - centre_mm;
  const double squares = glm::dot(half_across_mm, half_across_mm) + glm::dot(half_down_mm, half_down_mm);
  if (!(squares > 0)) return glm::length(b);
  const double xx =
      half_across_mm.x * half_across_mm.x + half_down_mm.x * half_down_mm.x + thinnest * squares;
  const double yy =
      half_across_mm.y * half_across_mm.y + half_down_mm.y * half_down_mm.y + thinnest * squares;
  const double xy = half_across_mm.x * half_across_mm.y + half_down_mm.x * half_down_mm.y;
  double t = 0;
  for (int step = 0;; ++step) {
    const double per_determinant = 1 / ((xx + t) * (yy + t) - xy * xy);
    const auto divided = [&](glm::dvec2 v) {
      return glm::dvec2((yy + t) * v.x - xy * v.y, (xx + t) * v.y - xy * v.x) * per_determinant;
    };
    const glm::dvec2 v = divided(b);
    const glm::dvec2 nearest(xx * v.x + xy * v.y, xy * v.x + yy * v.y);
    const double size2 = glm::dot(v, nearest);
    const double beyond = std::sqrt(size2) - 1;
    if (beyond <= near_enough || step == most_steps) return t * glm::length(v);
    t += size2 * beyond / glm::dot(divided(v), nearest);
  }
}

double Footprint::smallestRadius() const {
  return std::abs(cross(half_across_mm, half_down_mm)) / largestRadius();
}

void PixelRegion::assign(std::span<const Run> runs) {
  runs_ = runs;
  top_ = runs.front().row;
  height_ = runs.back().row + 1 - top_;
  left_ = runs.front().begin;
  int right = runs.front().end;
  for (const Run& run : runs) {
    left_ = std::min(left_, run.begin);
    right = std::max(right, run.end);
  }
  width_ = right - left_;
  inside_.assign(static_cast<std::size_t>(width_ + 2) * static_cast<std::size_t>(height_ + 2), 0);
  for (const Run& run : runs)
    std::fill_n(&inside_[offset(run.begin, run.row)], run.end - run.begin, std::uint8_t{1});
}

AreaAndCentre areaOf(std::span<const Run> runs, const BoardMapping& mapping) {
  const glm::dvec2 origin = mapping.board({runs.front().begin, runs.front().row});
  double area2 = 0;
  glm::dvec2 moment6(0);
  for (const Run& run : runs) addQuad(quadOf(run, mapping), origin, area2, moment6);
  return {std::abs(area2) / 2, origin + moment6 / (3 * area2)};
}

FootprintSizes footprintSizesOf(const PixelRegion& region, const BoardMapping& mapping) {
  const double x0 = region.left();
  const double y0 = region.top();
  const double x1 = x0 + region.width();
  const double y1 = y0 + region.height();
  const Footprint middle = mapping.footprintAt({(x0 + x1) / 2, (y0 + y1) / 2});
  FootprintSizes sizes{2 * middle.smallestRadius(), 2 * middle.largestRadius()};
  for (const double x : {x0 - 1, x1 + 1})
    for (const double y : {y0 - 1, y1 + 1}) {
      const Footprint corner = mapping.footprintAt({x, y});
      sizes.smallest_mm = std::min(sizes.smallest_mm, 2 * corner.smallestRadius());
      sizes.largest_mm = std::max(sizes.largest_mm, 2 * corner.largestRadius());
    }
  return sizes;
}

}  // namespace petalproof::gaps
