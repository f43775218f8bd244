#pragma once
// Which rules for fillers a plan breaks, reckoned slowly and on its own: every rule from the plan's own words
// and the scene's triangles, place by place, 1 mm apart.

#include "engine/plan/read_plan.h"

#include <string>
#include <vector>

namespace petalproof::testing {

// In words, one for each filler and rule; empty where all are kept. Of a plan that can be built.
std::vector<std::string> brokenRules(const plan::LoadedPlan& filled);

}  // namespace petalproof::testing
