#pragma once
// Warns of misplaced blooms; readPlan calls this last.

#include "engine/plan/findings.h"
#include "engine/plan/read_plan.h"

namespace petalproof::plan {

// Warns of each bloom that lies wholly off its panel and each filler that lies wholly off the wall: mostly a
// typing error in `at`. Precondition: the plan has no problem.
void warnOfBloomsOffTheBoard(const LoadedPlan& loaded, Findings& findings);

}  // namespace petalproof::plan
