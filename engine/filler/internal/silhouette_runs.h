#pragma once
// The rows of grid places within triangles; part of silhouette.h.

#include "engine/filler/internal/silhouette.h"

#include <algorithm>
#include <cstddef>

namespace petalproof {

struct Crossings {
  double from = 0;
  double to = 0;
};

// Where the row at `y` crosses the triangle; `y` within its height.
inline Crossings crossingsAt(double y, const glm::dvec2* corners) {
  Crossings found{1e300, -1e300};
  for (int k = 0; k < 3; ++k) {
    const glm::dvec2& a = corners[k];
    const glm::dvec2& b = corners[(k + 1) % 3];
    if ((a.y < y && b.y < y) || (a.y > y && b.y > y)) continue;
    if (a.y == b.y) {
      found.from = std::min({found.from, a.x, b.x});
      found.to = std::max({found.to, a.x, b.x});
      continue;
    }
    // From the lower end, so that neighbours find the same number.
    const glm::dvec2& low = a.y < b.y ? a : b;
    const glm::dvec2& high = a.y < b.y ? b : a;
    const double x = low.x + (high.x - low.x) * ((y - low.y) / (high.y - low.y));
    found.from = std::min(found.from, x);
    found.to = std::max(found.to, x);
  }
  return found;
}

template <class Take>
void forEachRun(const Silhouette& silhouette, const PlaceGrid& grid, const Take& take) {
  for (std::size_t k = 0; k < silhouette.triangles.size(); ++k) {
    const Triangle& t = silhouette.triangles[k];
    const glm::dvec2 corners[3] = {silhouette.corners[t[0]], silhouette.corners[t[1]],
                                   silhouette.corners[t[2]]};
    const double low = std::min({corners[0].y, corners[1].y, corners[2].y});
    const double high = std::max({corners[0].y, corners[1].y, corners[2].y});
    for (int row = grid.y.firstFrom(low); row < grid.y.count() && grid.y.at(row) <= high; ++row) {
      const Crossings x = crossingsAt(grid.y.at(row), corners);
      const int from = grid.x.firstFrom(x.from);
      int to = from;
      while (to < grid.x.count() && grid.x.at(to) <= x.to) ++to;
      if (from < to) take(row, from, to, k);
    }
  }
}

}  // namespace petalproof
