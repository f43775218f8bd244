#pragma once
// Checks a plan and looks for changes that would help; `check --advice` and the window call it.

#include "engine/advice/advice.h"
#include "engine/check/check.h"
#include "engine/check/shot_checker.h"

namespace petalproof::advice {

struct AdvisedCheck {
  check::Check check;
  Advice advice;
};

// Checks a plan and says what would help each of its shots; takes many times as long as the check alone.
// `options.readings` must be on. Problems: as of runCheck.
Result<AdvisedCheck> checkWithAdvice(const plan::LoadedPlan& loaded, const scene::Scene& scene,
                                     const check::CheckOptions& options = {});

}  // namespace petalproof::advice
