#pragma once
// Draws a gap's outline: the border of its pixels, simplified on the board plane. findGaps calls it for each
// gap.

#include "engine/gaps/internal/pixel_region.h"

#include <vector>

namespace petalproof::gaps {

// The outer border of an 8-connected region along the borders of its pixels, corners only, the first not
// repeated. It touches itself where pixels meet at a corner only, and never crosses itself.
void collectOuterBorder(const PixelRegion& region, std::vector<glm::ivec2>& corners);

// A simplified border as a closed polygon (first point = last) on the board plane, anticlockwise: each point
// of either line is within `tolerance_mm` of the other line. It crosses itself nowhere.
std::vector<glm::dvec2> simplifiedOutline(const std::vector<glm::dvec2>& border, double tolerance_mm);

}  // namespace petalproof::gaps
