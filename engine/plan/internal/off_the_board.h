#pragma once
#include "engine/plan/findings.h"
#include "engine/plan/read_plan.h"

namespace petalproof::plan {

// Warns of blooms that touch nothing of their panel, and of fillers that touch nothing of the wall: most
// often a slip in `at`. Precondition: the plan has no problem.
void warnOfBloomsOffTheBoard(const LoadedPlan& loaded, Findings& findings);

}  // namespace petalproof::plan
