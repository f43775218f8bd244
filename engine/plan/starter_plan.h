#pragma once
// Writes a plan for people who have never seen a plan file: a commented text to change. `petalproof new`
// calls this.

#include "engine/plan/plan.h"

#include <string>

namespace petalproof::plan {

struct StarterOptions {
  int columns = 4;  // 1 to 200, as are rows
  int rows = 4;
  Units units = Units::inch;
  Size panel{{24}, {20}};  // in `units`; positive, the whole wall under 1 km
  std::string title = "My wall";
};

// Options with the usual panel in these units: 24 x 20 in, 60 x 50 cm, 600 x 500 mm.
StarterOptions starterOptions(Units units);

// The text of a plan that loads without a problem: every section and key is explained in a line, the wall
// has a few kinds of bloom in sizes that suit the panel, two layouts in turn, and two shots that frame
// something sensible for the wall's size.
std::string starterPlan(const StarterOptions& options);

}  // namespace petalproof::plan
