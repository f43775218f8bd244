#pragma once
#include "engine/advice/advice.h"
#include "engine/base/pool.h"
#include "engine/check/check.h"
#include "engine/check/shot_checker.h"

namespace petalproof::advice {

struct AdvisedCheck {
  check::Check check;
  Advice advice;
};

// Checks a plan and says what would help each of its shots; takes many times as long as the check alone.
// `options.readings` must be on. Problems: as of runCheck. Throws Stopped where options.stop asks for it.
Result<AdvisedCheck> checkWithAdvice(const plan::LoadedPlan& loaded, const scene::Scene& scene,
                                     const Pool& pool, const check::CheckOptions& options = {});

}  // namespace petalproof::advice
