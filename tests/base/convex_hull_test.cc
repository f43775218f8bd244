#include "engine/base/convex_hull.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>
#include <span>
#include <utility>
#include <vector>

using namespace petalproof;

namespace {

using GridPoint = std::pair<int, int>;

int turnOf(const GridPoint& a, const GridPoint& b, const GridPoint& c) {
  return (b.first - a.first) * (c.second - a.second) - (b.second - a.second) * (c.first - a.first);
}

std::vector<GridPoint> hullOfPoints(std::vector<GridPoint> points) {
  std::sort(points.begin(), points.end());
  std::vector<GridPoint> hull;
  convexHull(std::span<const GridPoint>(points), turnOf, hull);
  return hull;
}

}  // namespace

TEST_CASE("the hull of a square with points on its sides and within is its corners, turning one way") {
  CHECK(hullOfPoints({{0, 0}, {4, 0}, {4, 4}, {0, 4}, {2, 0}, {4, 2}, {1, 1}, {2, 2}}) ==
        std::vector<GridPoint>{{0, 0}, {4, 0}, {4, 4}, {0, 4}});
}

TEST_CASE("hulls of no point, of a point and of a line") {
  CHECK(hullOfPoints({}).empty());
  CHECK(hullOfPoints({{3, 4}}) == std::vector<GridPoint>{{3, 4}});
  CHECK(hullOfPoints({{0, 0}, {1, 1}, {2, 2}, {3, 3}}) == std::vector<GridPoint>{{0, 0}, {3, 3}});
}

TEST_CASE("a hull turns one way at each corner and has every point on its inner side") {
  for (unsigned seed = 1; seed <= 200; ++seed) {
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::vector<GridPoint> points(3 + random() % 40);
    for (GridPoint& point : points)
      point = {static_cast<int>(random() % 12), static_cast<int>(random() % 12)};
    const std::vector<GridPoint> hull = hullOfPoints(points);
    if (hull.size() < 3) continue;
    for (std::size_t k = 0; k < hull.size(); ++k) {
      const GridPoint& a = hull[k];
      const GridPoint& b = hull[(k + 1) % hull.size()];
      CHECK(turnOf(a, b, hull[(k + 2) % hull.size()]) > 0);
      for (const GridPoint& point : points) CHECK(turnOf(a, b, point) >= 0);
    }
  }
}
