#pragma once
// Visits the runs of grid places within a silhouette's triangles, row by row: for the places that a
// silhouette hides and for what it shows head-on.

#include "engine/candidates/silhouette.h"

#include <algorithm>
#include <cstddef>
#include <limits>
#include <type_traits>

namespace petalproof::candidates {

// A triangle's edge from its lower end: neighbouring triangles compute the same numbers for it.
struct EdgeRun {
  double low_y = 0;
  double high_y = 0;
  double low_x = 0;
  double per_y = 0;
  double at(double y) const { return low_x + per_y * (y - low_y); }
};

inline EdgeRun edgeRun(const glm::dvec2& a, const glm::dvec2& b) {
  const glm::dvec2& low = a.y < b.y ? a : b;
  const glm::dvec2& high = a.y < b.y ? b : a;
  const double rise = high.y - low.y;
  return {low.y, high.y, low.x, rise > 0 ? (high.x - low.x) / rise : 0.0};
}

// Calls take(row, from, to, triangle) for each run [from, to) of a row's places that a triangle holds; stops
// if take returns false.
template <class Take>
void forEachRun(const Silhouette& silhouette, const PlaceGrid& grid, const Take& take) {
  for (std::size_t k = 0; k < silhouette.triangles.size(); ++k) {
    const scene::Triangle& t = silhouette.triangles[k];
    const glm::dvec2 a = silhouette.corners[t[0]];
    const glm::dvec2 b = silhouette.corners[t[1]];
    const glm::dvec2 c = silhouette.corners[t[2]];
    const int first = grid.y.firstFrom(std::min({a.y, b.y, c.y}));
    const int last = grid.y.firstAfter(std::max({a.y, b.y, c.y}));
    if (first >= last) continue;
    const EdgeRun edges[3] = {edgeRun(a, b), edgeRun(b, c), edgeRun(c, a)};
    for (int row = first; row < last; ++row) {
      const double y = grid.y.at(row);
      double from = std::numeric_limits<double>::max();
      double to = std::numeric_limits<double>::lowest();
      for (const EdgeRun& edge : edges) {
        if (y < edge.low_y || y > edge.high_y || edge.low_y == edge.high_y) continue;
        from = std::min(from, edge.at(y));
        to = std::max(to, edge.at(y));
      }
      const int column = grid.x.firstFrom(from);
      const int end = grid.x.firstAfter(to);
      if (column >= end) continue;
      if constexpr (std::is_same_v<decltype(take(row, column, end, k)), bool>) {
        if (!take(row, column, end, k)) return;
      } else {
        take(row, column, end, k);
      }
    }
  }
}

}  // namespace petalproof::candidates
