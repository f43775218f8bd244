#pragma once
// What a first wall is arranged from: panels, kinds of bloom, and how many of each hang on the wall.

#include "engine/plan/plan.h"

#include <cstdint>
#include <string>
#include <vector>

namespace petalproof::tables {

struct KindCount {
  std::string bloom;   // a name of ArrangeRequest::blooms
  int on_wall = 0;     // how many the whole wall has; fillers aren't arranged
  std::string layout;  // only in cells of this layout; empty: in any
  friend bool operator==(const KindCount&, const KindCount&) = default;
};

struct ArrangeRequest {
  Units units = Units::inch;
  plan::Wall wall;                  // columns, rows, panel, seam, grid (its cells name the layouts to make)
  std::vector<plan::Bloom> blooms;  // depth and width may be left out: the shape's usual share
  std::vector<KindCount> counts;
  std::uint64_t seed = 1;
  double care = 1;  // how long good places are looked for, above 0; 1: as for a wall to keep
  friend bool operator==(const ArrangeRequest&, const ArrangeRequest&) = default;
};

}  // namespace petalproof::tables
