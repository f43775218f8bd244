#pragma once
// Finds blooms that were placed for nothing, because another bloom hides them; buildScene warns of them.

#include "engine/base/problem.h"
#include "engine/plan/read_plan.h"
#include "engine/scene/scene.h"

#include <vector>

namespace petalproof::scene {

// A warning for each placement of a layout, and each filler, of which a copy lies wholly inside another
// bloom.
//
// The test: the upright cylinder around the inner bloom lies within the cylinder around the outer bloom, and
// the outer bloom hides at least 19 in 20 of the inner bloom's vertices, over views from 25 directions
// (head-on, and all around at 25, 50 and 70 degrees from head-on). A coarse picture of the outer bloom (64 x
// 64 samples) decides; between samples the lowest counts, so that a bloom which peeks out gives no warning.
// Petals slid beneath the lifted petals of a neighbour show from the side and give no warning. Of two blooms
// of the same kind at the same place, the later gives the warning.
std::vector<Problem> hiddenBlooms(const Scene& scene, const plan::LoadedPlan& loaded);

}  // namespace petalproof::scene
