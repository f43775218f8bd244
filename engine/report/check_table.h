#pragma once
// The check in words and columns, for a terminal.

#include "engine/check/check.h"
#include "engine/plan/read_plan.h"

#include <string>
#include <vector>

namespace petalproof {

// Gaps nearer than 3 in to each other stand together as one spot under the worst of them; slivers
// under 1/8 in wide are only counted.
struct Spot {
  std::vector<int> gaps;  // indices into GapsOfShot::gaps, worst first
  int number = 0;         // of its worst gap
};
struct Spots {
  std::vector<Spot> spots;  // worst first
  int slivers = 0;
};
Spots spotsOf(const GapsOfShot& found);

// "seam B2|C2, 7 1/4 in below the top of row 2"; `from_left_mm`... in words a maker can follow.
std::string whereInWords(const Gap& gap, const PanelGrid& panels, Units units);

std::string checkTable(const Check& check, const LoadedPlan& loaded, const Scene& scene);

}  // namespace petalproof
