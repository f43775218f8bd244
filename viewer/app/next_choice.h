#pragma once
// What is chosen next where somebody works without a mouse.

#include "viewer/app/references.h"
#include "viewer/app/state.h"

#include <optional>

namespace petalproof::app {

// The bloom nearest the one chosen last, within 45 degrees of that way (right and down above 0); where none
// is chosen, or (0, 0), the one nearest the wall's middle. Nothing where there is none, or no scene yet.
std::optional<BloomRef> nextBloom(const State& state, int right, int down);
// The cell that many columns to the right and rows down of the one chosen, or of the chosen bloom's; where
// none is, the one in the middle. Stays on the wall. Nothing where there is no plan.
std::optional<CellRef> nextPanel(const State& state, int right, int down);

}  // namespace petalproof::app
