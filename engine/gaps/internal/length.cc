#include "engine/gaps/internal/length.h"

#include "engine/base/convex_hull.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <numeric>

namespace petalproof::gaps {
namespace {

// The share of the way to the next parallel row of pixels by which a side of the hull is moved out.
// Half is right for a long side; a side from a pixel straight to the next cuts off the tip of a corner as
// often as not. Found on rectangles, discs and ellipses at random places.
double shareOfWay(int pixels_along) { return 0.5 + 0.4 / pixels_along; }

// Twice the area of a, b, c: positive where they turn with growing x towards growing y.
std::int64_t turn(PixelAt a, PixelAt b, PixelAt c) {
  return static_cast<std::int64_t>(b.x - a.x) * (c.y - a.y) -
         static_cast<std::int64_t>(b.y - a.y) * (c.x - a.x);
}

// The outermost pixels of each row, by y then x.
void collectOutermost(std::span<const Run> runs, std::vector<PixelAt>& pixels) {
  pixels.clear();
  for (std::size_t k = 0; k < runs.size();) {
    const int row = runs[k].row;
    const int begin = runs[k].begin;
    int end = begin;
    for (; k < runs.size() && runs[k].row == row; ++k) end = runs[k].end;
    pixels.push_back({begin, row});
    if (end > begin + 1) pixels.push_back({end - 1, row});
  }
}

// The convex hull of the region's pixels, by their centres.
void collectHull(std::span<const Run> runs, LengthScratch& scratch) {
  collectOutermost(runs, scratch.outermost);
  convexHull(std::span<const PixelAt>(scratch.outermost), turn, scratch.hull);
}

// The hull's side from a to b, moved out. Along its shortest normal in whole numbers the rows of pixels
// beside it are 1 apart.
HalfPlane movedSide(PixelAt a, PixelAt b) {
  const int steps = std::gcd(b.x - a.x, b.y - a.y);
  const int across = (b.y - a.y) / steps;
  const int down = (a.x - b.x) / steps;
  const std::int64_t here = static_cast<std::int64_t>(across) * a.x + static_cast<std::int64_t>(down) * a.y;
  return {static_cast<double>(across), static_cast<double>(down),
          static_cast<double>(here) + shareOfWay(steps)};
}

glm::dvec2 crossing(const HalfPlane& a, const HalfPlane& b) {
  const double determinant = a.across * b.down - a.down * b.across;
  return {(a.most * b.down - a.down * b.most) / determinant,
          (a.across * b.most - a.most * b.across) / determinant};
}

bool isOutside(const HalfPlane& side, glm::dvec2 place) {
  return side.across * place.x + side.down * place.y > side.most;
}

// Keeps the sides, given in their order around the hull, that are still sides after the move: those from the
// returned index to the end of `sides`.
std::size_t keepSides(std::vector<HalfPlane>& sides) {
  std::size_t first = 0;
  std::size_t end = 0;
  for (const HalfPlane side : sides) {
    while (end - first >= 2 && isOutside(side, crossing(sides[end - 2], sides[end - 1]))) --end;
    while (end - first >= 2 && isOutside(side, crossing(sides[first], sides[first + 1]))) ++first;
    sides[end++] = side;
  }
  while (end - first > 2 && isOutside(sides[first], crossing(sides[end - 2], sides[end - 1]))) --end;
  while (end - first > 2 && isOutside(sides[end - 1], crossing(sides[first], sides[first + 1]))) ++first;
  sides.resize(end);
  return first;
}

double longestBetween(std::span<const glm::dvec2> places) {
  double longest2 = 0;
  for (std::size_t a = 0; a < places.size(); ++a)
    for (std::size_t b = a + 1; b < places.size(); ++b) {
      const glm::dvec2 between = places[b] - places[a];
      longest2 = std::max(longest2, between.x * between.x + between.y * between.y);
    }
  return std::sqrt(longest2);
}

// The longest way across the hull with its sides moved out.
double acrossMovedHull(const BoardMapping& mapping, LengthScratch& scratch) {
  const std::vector<PixelAt>& hull = scratch.hull;
  std::vector<HalfPlane>& sides = scratch.sides;
  sides.clear();
  for (std::size_t k = 0; k < hull.size(); ++k)
    sides.push_back(movedSide(hull[k], hull[k + 1 < hull.size() ? k + 1 : 0]));
  const std::size_t first = keepSides(sides);
  scratch.corners_mm.clear();
  for (std::size_t k = first; k < sides.size(); ++k) {
    const glm::dvec2 corner = crossing(sides[k], sides[k + 1 < sides.size() ? k + 1 : first]);
    scratch.corners_mm.push_back(mapping.board(corner + 0.5));
  }
  return longestBetween(scratch.corners_mm);
}

// The longest distance between points of two of the hull's pixels, each taken as the ellipse in its
// footprint, `times` as large.
double acrossPixels(std::span<const Footprint> pixels, double times) {
  double most_reach = 0;
  for (const Footprint& pixel : pixels) most_reach = std::max(most_reach, times * pixel.largestRadius());
  double longest = 2 * most_reach;
  for (std::size_t a = 0; a < pixels.size(); ++a)
    for (std::size_t b = a + 1; b < pixels.size(); ++b) {
      const glm::dvec2 between = pixels[b].centre_mm - pixels[a].centre_mm;
      const double too_short = longest - 2 * most_reach;
      if (glm::dot(between, between) <= too_short * too_short) continue;
      const double reach = pixels[a].radiusTowards(between) + pixels[b].radiusTowards(between);
      longest = std::max(longest, glm::length(between) + times * reach);
    }
  return longest;
}

}  // namespace

double lengthOf(std::span<const Run> runs, const BoardMapping& mapping, LengthScratch& scratch) {
  collectHull(runs, scratch);
  scratch.footprints.clear();
  for (const PixelAt& pixel : scratch.hull)
    scratch.footprints.push_back(mapping.footprintAt({pixel.x + 0.5, pixel.y + 0.5}));
  if (scratch.hull.size() < 3) return acrossPixels(scratch.footprints, 1.0);
  return std::min(acrossMovedHull(mapping, scratch), acrossPixels(scratch.footprints, std::sqrt(2.0)));
}

}  // namespace petalproof::gaps
