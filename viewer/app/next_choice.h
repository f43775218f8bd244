#pragma once
// Finds the bloom or the panel that an arrow key chooses next. apply() (action.h) calls it.

#include "viewer/app/references.h"
#include "viewer/app/state.h"

#include <optional>

namespace petalproof::app {

// The bloom nearest the last chosen bloom, within 45 degrees of the direction (`right`, `down`). Where no
// bloom is chosen, or the direction is (0, 0): the bloom nearest the wall's middle. Nothing where no bloom
// lies that way, or the scene isn't built yet.
std::optional<BloomRef> nextBloom(const State& state, int right, int down);
// The cell `right` columns and `down` rows from the last chosen cell, kept on the wall. Where no cell is
// chosen: the chosen bloom's cell, or else the cell in the middle. Nothing where no plan is open.
std::optional<CellRef> nextPanel(const State& state, int right, int down);

}  // namespace petalproof::app
