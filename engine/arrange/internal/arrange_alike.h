#pragma once
// Measures whether layouts came out alike; arrange() then searches again.

#include "engine/arrange/internal/arrange_board.h"

namespace petalproof::arrange {

// The largest share of blooms that any two layouts, either way up, have in common: of the same kind, within
// an eighth of the panel's shorter side of each other.
double alikeness(const ArrangeTask& task);

}  // namespace petalproof::arrange
