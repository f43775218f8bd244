#include "engine/gaps/internal/outline.h"

#include <glm/geometric.hpp>
#include "engine/base/segment.h"

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <utility>

namespace petalproof::gaps {
namespace {

// The squares of distances to a stretch of a straight line.
class Stretch {
 public:
  Stretch(glm::dvec2 a, glm::dvec2 b) : a_(a), along_(b - a) {
    const double length2 = glm::dot(along_, along_);
    per_length2_ = length2 > 0 ? 1 / length2 : 0.0;
  }
  double squaredDistance(glm::dvec2 p) const {
    const glm::dvec2 from = p - a_;
    const double share = std::clamp(glm::dot(from, along_) * per_length2_, 0.0, 1.0);
    const glm::dvec2 between = from - share * along_;
    return glm::dot(between, between);
  }

 private:
  glm::dvec2 a_;
  glm::dvec2 along_;
  double per_length2_ = 0;
};

// Marks which corners between two kept ones are to be kept (D. Douglas, T. Peucker, Cartographica 10(2),
// 1973).
void keepBetween(const std::vector<glm::dvec2>& points, std::size_t first, std::size_t last,
                 double tolerance2, std::vector<std::uint8_t>& keep) {
  std::vector<std::pair<std::size_t, std::size_t>> todo = {{first, last}};
  while (!todo.empty()) {
    const auto [from, to] = todo.back();
    todo.pop_back();
    const Stretch stretch(points[from], points[to]);
    double farthest2 = tolerance2;
    std::size_t farthest = from;
    for (std::size_t k = from + 1; k < to; ++k) {
      const double distance2 = stretch.squaredDistance(points[k]);
      if (distance2 <= farthest2) continue;
      farthest2 = distance2;
      farthest = k;
    }
    if (farthest == from) continue;
    keep[farthest] = 1;
    todo.emplace_back(from, farthest);
    todo.emplace_back(farthest, to);
  }
}

std::size_t farthestFromFirst(const std::vector<glm::dvec2>& closed) {
  double farthest2 = 0;
  std::size_t farthest = 0;
  for (std::size_t k = 1; k < closed.size(); ++k) {
    const glm::dvec2 between = closed[k] - closed[0];
    if (glm::dot(between, between) <= farthest2) continue;
    farthest2 = glm::dot(between, between);
    farthest = k;
  }
  return farthest;
}

std::vector<glm::dvec2> simplified(const std::vector<glm::dvec2>& closed, double tolerance_mm) {
  std::vector<std::uint8_t> keep(closed.size(), 0);
  const std::size_t opposite = farthestFromFirst(closed);
  keep.front() = keep[opposite] = keep.back() = 1;
  keepBetween(closed, 0, opposite, tolerance_mm * tolerance_mm, keep);
  keepBetween(closed, opposite, closed.size() - 1, tolerance_mm * tolerance_mm, keep);
  std::vector<glm::dvec2> kept;
  kept.reserve(static_cast<std::size_t>(std::count(keep.begin(), keep.end(), 1)));
  for (std::size_t k = 0; k < closed.size(); ++k)
    if (keep[k] != 0) kept.push_back(closed[k]);
  return kept;
}

// Whether two segments have a point in common that isn't an end of both.
bool cut(glm::dvec2 a, glm::dvec2 b, glm::dvec2 c, glm::dvec2 d) {
  if (a == c || a == d || b == c || b == d) return false;
  const double c_side = cross(b - a, c - a);
  const double d_side = cross(b - a, d - a);
  const double a_side = cross(d - c, a - c);
  const double b_side = cross(d - c, b - c);
  return c_side * d_side <= 0 && a_side * b_side <= 0 &&
         std::max(std::min(a.x, b.x), std::min(c.x, d.x)) <=
             std::min(std::max(a.x, b.x), std::max(c.x, d.x)) &&
         std::max(std::min(a.y, b.y), std::min(c.y, d.y)) <= std::min(std::max(a.y, b.y), std::max(c.y, d.y));
}

// Sweeps over the segments from left to right; only those that overlap in x are compared.
bool crossesItself(const std::vector<glm::dvec2>& closed) {
  struct Span {
    double left, right;
    std::size_t segment;
  };
  std::vector<Span> spans;
  spans.reserve(closed.size());
  for (std::size_t k = 0; k + 1 < closed.size(); ++k)
    spans.push_back({std::min(closed[k].x, closed[k + 1].x), std::max(closed[k].x, closed[k + 1].x), k});
  std::sort(spans.begin(), spans.end(), [](const Span& a, const Span& b) {
    return a.left != b.left ? a.left < b.left : a.segment < b.segment;
  });
  for (std::size_t i = 0; i < spans.size(); ++i)
    for (std::size_t j = i + 1; j < spans.size() && spans[j].left <= spans[i].right; ++j) {
      const std::size_t a = spans[i].segment;
      const std::size_t b = spans[j].segment;
      if (cut(closed[a], closed[a + 1], closed[b], closed[b + 1])) return true;
    }
  return false;
}

double twiceArea(const std::vector<glm::dvec2>& closed) {
  double area2 = 0;
  for (std::size_t k = 0; k + 1 < closed.size(); ++k)
    area2 += cross(closed[k] - closed[0], closed[k + 1] - closed[0]);
  return area2;
}

}  // namespace

void collectOuterBorder(const PixelRegion& region, std::vector<glm::ivec2>& corners) {
  // Clockwise as seen, the region on the right, from the first pixel's upper left corner. By direction, from
  // rightwards on clockwise: the step to the next corner, and the pixels ahead on the left and on the right
  // as seen from the pixel whose upper left corner is reached.
  const std::ptrdiff_t pitch = region.pitch();
  const std::array<glm::ivec2, 4> steps = {{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}};
  const std::array<std::ptrdiff_t, 4> on_left = {-pitch, 0, -1, -pitch - 1};
  const std::array<std::ptrdiff_t, 4> on_right = {0, -1, -pitch - 1, -pitch};
  const glm::ivec2 start(region.runs().front().begin, region.runs().front().row);
  const std::uint8_t* pixel = region.row(start.y) + (start.x - region.left());
  corners.clear();
  glm::ivec2 corner = start;
  std::size_t direction = 0;
  do {
    corner += steps[direction];
    pixel += steps[direction].x + steps[direction].y * pitch;
    const std::size_t before = direction;
    // Left first: pixels that meet at a corner only hang together.
    if (pixel[on_left[direction]] != 0)
      direction = (direction + 3) % 4;
    else if (pixel[on_right[direction]] == 0)
      direction = (direction + 1) % 4;
    if (direction != before) corners.push_back(corner);
  } while (corner != start || direction != 0);
}

std::vector<glm::dvec2> simplifiedOutline(const std::vector<glm::dvec2>& border, double tolerance_mm) {
  std::vector<glm::dvec2> closed;
  closed.reserve(border.size() + 1);
  closed = border;
  closed.push_back(border.front());
  if (twiceArea(closed) < 0) std::reverse(closed.begin(), closed.end());
  for (int attempt = 0; attempt < 8; ++attempt) {
    std::vector<glm::dvec2> fewer = simplified(closed, tolerance_mm);
    if (fewer.size() >= 4 && !crossesItself(fewer)) return fewer;
    tolerance_mm /= 2;
  }
  return closed;
}

}  // namespace petalproof::gaps
