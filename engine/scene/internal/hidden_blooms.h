#pragma once
// Blooms that were placed for nothing.

#include "engine/base/problem.h"
#include "engine/plan/read_plan.h"
#include "engine/scene/scene.h"

#include <vector>

namespace petalproof {

// One warning for each placement of a layout, and each filler, of which a copy lies wholly inside another
// bloom.
//
// The test: every vertex of the inner bloom is hidden by that one other bloom from each of 25 directions
// that cover the front half-space to 70 degrees off head-on. What the other bloom hides in a direction is
// read from a coarse picture of it (64 x 64 samples), between samples the least, so that a bloom that shows
// is hardly ever warned about; one that peeks out at the edge may be left unwarned. Of two equal blooms at
// the same place the later one is warned about.
std::vector<Problem> hiddenBlooms(const Scene& scene, const LoadedPlan& loaded);

}  // namespace petalproof
