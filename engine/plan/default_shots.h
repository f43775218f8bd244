#pragma once
// The shots for a plan without any; the check and the viewer use them.

#include "engine/plan/plan.h"

#include <vector>

namespace petalproof::plan {

// A couple, one person full length, a group, a guest's
// phone from the side, the whole wall (full frame, 50 mm, facing its middle, the outline x 1.04 just
// inside the frame).
std::vector<Shot> defaultShots(const Plan& plan);

}  // namespace petalproof::plan
