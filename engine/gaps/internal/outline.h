#pragma once
#include "engine/gaps/internal/pixel_region.h"

#include <vector>

namespace petalproof::gaps {

// The outer border of an 8-connected region along the borders of its pixels, corners only, the first not
// repeated. It touches itself where pixels meet at a corner only, and never crosses itself.
void collectOuterBorder(const PixelRegion& region, std::vector<glm::ivec2>& corners);

// A closed polygon (first point = last) on the board plane, anticlockwise, with fewer corners: each point
// of one within `tolerance_mm` of the other. It crosses itself nowhere.
std::vector<glm::dvec2> simplifiedOutline(const std::vector<glm::dvec2>& border, double tolerance_mm);

}  // namespace petalproof::gaps
