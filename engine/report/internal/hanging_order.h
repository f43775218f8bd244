#pragma once
// The fillers as they go up: row by row from the top, in each those from the table before those that need
// the tape.

#include "engine/fill/fill.h"

#include <vector>

namespace petalproof::report {

struct HangingGroup {
  int row = 1;  // the row of panels, from 1, that must hang before
  fill::When when = fill::When::onTheTable;
  std::vector<int>
      fillers;  // indices into FillResult::fillers: by panel, then from the top, then from the left
};

std::vector<HangingGroup> hangingGroups(const std::vector<fill::PlacedFiller>& fillers);

// The number of each filler in the list, from 1, as FillResult::fillers.
std::vector<int> listNumbers(const std::vector<fill::PlacedFiller>& fillers);

}  // namespace petalproof::report
