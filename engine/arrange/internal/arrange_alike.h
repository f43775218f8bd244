#pragma once
#include "engine/arrange/internal/arrange_board.h"

namespace petalproof::arrange {

// The largest share of blooms that two layouts, either way up, have in about the same place: the same kind,
// within an eighth of the panel's shorter side.
double alikeness(const ArrangeTask& task);

}  // namespace petalproof::arrange
