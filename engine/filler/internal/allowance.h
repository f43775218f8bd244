#pragma once
// What of a filler is sure to hide when hands place it a little aside, a little small and turned: itself, but
// smaller.

#include "engine/scene/filler_maker.h"
#include "engine/scene/handmade.h"

#include <glm/vec2.hpp>

#include <vector>

namespace petalproof {

struct Allowance {
  // By FillerMaker::kinds(): what is left of its mesh across (x) and along (y), 0 to 1.
  std::vector<glm::dvec2> left;
};

// For errors of so many standard deviations. A round bloom comes in any turn: sure is the disc within its
// notches, less the shift, less what it is too small by. Greenery: what of a leaf's outline, a parabola to
// both sides, stays within it when it is shifted and turned.
Allowance allowanceOf(const FillerMaker& maker, const HandErrors& errors, double deviations);

}  // namespace petalproof
