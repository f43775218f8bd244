#pragma once
// The convex hull of points of any kind in the plane. Lengths of gaps and outlines around places to hide call
// it.

#include <cstddef>
#include <span>
#include <vector>

namespace petalproof {

// Writes the corners of the hull of points that are sorted along one axis, then along the other. `turn(a, b,
// c)`: twice the area of the triangle with its sign. The corners are in the order in which it is positive,
// without points on the sides between. A. M. Andrew, "Another efficient algorithm for convex hulls in two
// dimensions", Information Processing Letters 9(5), 1979.
template <class Point, class Turn>
void convexHull(std::span<const Point> sorted, const Turn& turn, std::vector<Point>& hull) {
  hull.clear();
  const auto addHalf = [&](auto begin, auto end) {
    const std::size_t first = hull.size();
    for (auto point = begin; point != end; ++point) {
      while (hull.size() >= first + 2 && turn(hull[hull.size() - 2], hull.back(), *point) <= 0)
        hull.pop_back();
      hull.push_back(*point);
    }
    if (!hull.empty()) hull.pop_back();  // it begins the other half
  };
  addHalf(sorted.begin(), sorted.end());
  addHalf(sorted.rbegin(), sorted.rend());
  if (hull.empty() && !sorted.empty()) hull.push_back(sorted.front());
}

}  // namespace petalproof
