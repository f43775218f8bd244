#pragma once
// Orders fillers as they are hung: row by row from the top, in each row first those that are placed on the
// table, then those that are measured on the wall. The list and the JSON number them so.

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
