#pragma once
// Blooms that were placed for nothing.

#include "engine/base/problem.h"
#include "engine/plan/read_plan.h"
#include "engine/scene/scene.h"

#include <vector>

namespace petalproof::scene {

// One warning for each placement of a layout, and each filler, of which a copy lies wholly inside another
// bloom.
//
// The test: the upright cylinder around the inner bloom lies in that around one other bloom, and of the
// looks at the inner bloom's vertices from 25 directions (head-on, and all around at 25, 50 and 70 degrees
// from it) that other bloom catches at least 19 in 20. What it catches is read from a coarse picture of
// it (64 x 64 samples), between samples the least, so that one which peeks out is not warned about. Petals
// slid beneath the lifted petals of a neighbour show from the side and pass. Of two blooms of one kind at
// one place the later is warned about.
std::vector<Problem> hiddenBlooms(const Scene& scene, const plan::LoadedPlan& loaded);

}  // namespace petalproof::scene
