#pragma once
// Tells where a gap is and how large, in words that a maker can follow on the wall with a tape.

#include "engine/base/units.h"
#include "engine/gaps/gaps.h"
#include "engine/scene/scene.h"

#include <string>

namespace petalproof::report {

// Of the gap's middle: "seam B2|C2, 7 1/4 in below the top of row 2", "seam B2/B3, 3 in from the left edge
// of column B", "panel B2, 3 in from its left, 7 1/4 in from its top", "crossing B2+C3".
std::string whereInWords(const gaps::Gap& gap, const scene::PanelGrid& panels, Units units);

// "5 in long, 5/8 in wide".
std::string sizeInWords(const gaps::Gap& gap, Units units);

// "seam B2|C2", "panel B2", "crossing B2+C3".
std::string ownerInWords(const gaps::Owner& owner);

}  // namespace petalproof::report
