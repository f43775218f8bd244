#pragma once
// Fills a plan: finds few fillers that hide what its shots see bare, first for perfect hands, then for the
// plan's own. The fill command and the viewer call it.

#include "engine/base/pool.h"
#include "engine/base/problem.h"
#include "engine/fill/fill.h"
#include "engine/plan/read_plan.h"

namespace petalproof::hands {

// Problems: as of buildScene and runCheck. It is no problem if fillers are needed but no bloom may be used as
// a filler: FillResult::left says so. The result doesn't depend on the pool. Throws Stopped where
// options.stop asks for it.
Result<fill::FillResult> fillPlan(const plan::LoadedPlan& loaded, const Pool& workers,
                                  const fill::FillOptions& options = {});

}  // namespace petalproof::hands
