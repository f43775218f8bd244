#pragma once
// Gaps that touch, put together.

#include "engine/gaps/gaps.h"
#include "engine/gaps/internal/measured_gap.h"

#include <vector>

namespace petalproof::gaps {

// Adds the holes of a picture to its gaps, and tells each gap its hole. `bare`: all bare pixels, by owner.
void addHoles(const std::vector<Run>& bare, const SeenGaps& seen, GapsOfShot& found);

}  // namespace petalproof::gaps
