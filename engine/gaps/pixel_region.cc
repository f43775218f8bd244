#include "engine/gaps/internal/pixel_region.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace petalproof {
namespace {

// Corners of pixels whose centres meet the board may look past its horizon, a ray's width away; they are
// held at this weight, very far out.
constexpr double least_weight = 1e-12;

double cross(glm::dvec2 a, glm::dvec2 b) { return a.x * b.y - a.y * b.x; }

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

// The pixels of a run lie side by side, so together they are one quad on the board, too.
std::array<glm::dvec2, 4> quadOf(const Run& run, const BoardMapping& mapping) {
  return {mapping.board({run.begin, run.row}), mapping.board({run.end, run.row}),
          mapping.board({run.end, run.row + 1}), mapping.board({run.begin, run.row + 1})};
}

struct Corner {
  std::int64_t x;
  std::int64_t y;
};

// Twice the area of a, b, c: positive where they turn with growing x towards growing y.
std::int64_t turn(Corner a, Corner b, Corner c) {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

// The outermost corners of each row, by y then x, as they are met.
std::vector<Corner> outermostCorners(std::span<const Run> runs) {
  std::vector<Corner> corners;
  for (std::size_t k = 0; k < runs.size();) {
    const int row = runs[k].row;
    const int begin = runs[k].begin;
    int end = begin;
    for (; k < runs.size() && runs[k].row == row; ++k) end = runs[k].end;
    for (const int y : {row, row + 1}) {
      corners.push_back({begin, y});
      corners.push_back({end, y});
    }
  }
  std::sort(corners.begin(), corners.end(),
            [](Corner a, Corner b) { return a.y != b.y ? a.y < b.y : a.x < b.x; });
  return corners;
}

// One half of A. Andrew's monotone chain ("Another efficient algorithm for convex hulls in two dimensions",
// Information Processing Letters 9(5), 1979); the last point is left to the other half.
template <class It>
void appendChain(std::vector<Corner>& hull, It first, It last) {
  const std::size_t start = hull.size();
  for (It it = first; it != last; ++it) {
    while (hull.size() >= start + 2 && turn(hull[hull.size() - 2], hull.back(), *it) <= 0) hull.pop_back();
    hull.push_back(*it);
  }
  hull.pop_back();
}

}  // namespace

glm::dvec2 BoardMapping::board(glm::dvec2 px) const {
  const glm::dvec3 h = boardFromPixel * glm::dvec3(px, 1);
  return glm::dvec2(h) / std::max(h.z, least_weight);
}

glm::dvec2 BoardMapping::pixel(glm::dvec2 mm) const {
  const glm::dvec3 h = pixelFromBoard * glm::dvec3(mm, 1);
  return glm::dvec2(h) / h.z;
}

double BoardMapping::footprint_mm(glm::dvec2 px) const {
  const glm::dvec3 h = boardFromPixel * glm::dvec3(px, 1);
  const double weight = std::max(h.z, least_weight);
  const glm::dvec2 place = glm::dvec2(h) / weight;
  const glm::dvec2 across = (glm::dvec2(boardFromPixel[0]) - place * boardFromPixel[0].z) / weight;
  const glm::dvec2 down = (glm::dvec2(boardFromPixel[1]) - place * boardFromPixel[1].z) / weight;
  const double area = std::abs(cross(across, down));
  const double squares = glm::dot(across, across) + glm::dot(down, down);
  const double larger =
      std::sqrt((squares + std::sqrt(std::max(0.0, squares * squares - 4 * area * area))) / 2);
  return area / larger;
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
  const auto columns = static_cast<std::size_t>(width_);
  inside_.assign(columns * static_cast<std::size_t>(height_), 0);
  for (const Run& run : runs) {
    const auto row =
        inside_.begin() + static_cast<std::ptrdiff_t>(static_cast<std::size_t>(run.row - top_) * columns);
    std::fill(row + (run.begin - left_), row + (run.end - left_), std::uint8_t{1});
  }
}

AreaAndCentre areaOf(std::span<const Run> runs, const BoardMapping& mapping) {
  const glm::dvec2 origin = mapping.board({runs.front().begin, runs.front().row});
  double area2 = 0;
  glm::dvec2 moment6(0);
  for (const Run& run : runs) addQuad(quadOf(run, mapping), origin, area2, moment6);
  return {std::abs(area2) / 2, origin + moment6 / (3 * area2)};
}

std::vector<glm::dvec2> hullOf(std::span<const Run> runs, const BoardMapping& mapping) {
  const std::vector<Corner> corners = outermostCorners(runs);
  std::vector<Corner> hull;
  appendChain(hull, corners.begin(), corners.end());
  appendChain(hull, corners.rbegin(), corners.rend());
  std::vector<glm::dvec2> places;
  places.reserve(hull.size());
  for (const Corner& corner : hull) places.push_back(mapping.board({corner.x, corner.y}));
  return places;
}

double diameterOf(std::span<const glm::dvec2> hull) {
  double longest2 = 0;
  for (std::size_t a = 0; a < hull.size(); ++a)
    for (std::size_t b = a + 1; b < hull.size(); ++b) {
      const glm::dvec2 between = hull[b] - hull[a];
      longest2 = std::max(longest2, glm::dot(between, between));
    }
  return std::sqrt(longest2);
}

double footprintOf(const PixelRegion& region, const BoardMapping& mapping) {
  const double x0 = region.left();
  const double y0 = region.top();
  const double x1 = x0 + region.width();
  const double y1 = y0 + region.height();
  return std::min({mapping.footprint_mm({x0, y0}), mapping.footprint_mm({x1, y0}),
                   mapping.footprint_mm({x0, y1}), mapping.footprint_mm({x1, y1}),
                   mapping.footprint_mm({(x0 + x1) / 2, (y0 + y1) / 2})});
}

}  // namespace petalproof
