#pragma once
// The fewest fillers that hide what a plan's shots see bare: for perfect hands, then for the plan's own.

#include "engine/base/problem.h"
#include "engine/fill/fill.h"
#include "engine/plan/read_plan.h"

namespace petalproof::hands {

// Problems: as of buildScene and runCheck; a plan in which no bloom may be used as a filler where one is
// needed is no problem: FillResult::left says so.
Result<fill::FillResult> fillPlan(const plan::LoadedPlan& loaded, const fill::FillOptions& options = {});

}  // namespace petalproof::hands
