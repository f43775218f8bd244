#pragma once
// The input of arrange(): the wall's panels, the kinds of bloom and the number of each on the wall.
// planFromTables makes it.

#include "engine/plan/plan.h"

#include <cstdint>
#include <string>
#include <vector>

namespace petalproof::tables {

struct KindCount {
  std::string bloom;   // a name of ArrangeRequest::blooms
  int on_wall = 0;     // on the whole wall, without fillers
  std::string layout;  // they hang only in cells of this layout; empty: in any cell
  friend bool operator==(const KindCount&, const KindCount&) = default;
};

struct ArrangeRequest {
  Units units = Units::inch;
  plan::Wall wall;                  // columns, rows, panel, seam, grid (its cells name the layouts to make)
  std::vector<plan::Bloom> blooms;  // depth and width may be left out: the shape's usual share
  std::vector<KindCount> counts;
  std::uint64_t seed = 1;
  double care = 1;  // scales the time of the search for places, above 0; 1: for a wall to keep
  friend bool operator==(const ArrangeRequest&, const ArrangeRequest&) = default;
};

}  // namespace petalproof::tables
