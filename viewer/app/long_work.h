#pragma once
// The work that takes long: fillers, and what would help a shot.

#include "engine/base/problem.h"
#include "engine/check/advice.h"
#include "engine/filler/fill.h"
#include "engine/plan/read_plan.h"
#include "viewer/app/job.h"
#include "viewer/app/state.h"

#include <memory>
#include <string>

namespace petalproof::app {

using FillJob = Job<Result<FillResult>>;

// The options' own progress and cancelled are not used.
std::unique_ptr<FillJob> startFilling(std::shared_ptr<const LoadedPlan> plan, FillOptions options,
                                      std::function<void()> wake);
// What is worth telling of a result.
FillNews newsOf(const FillResult& result);

// No value: it was stopped.
using AdviceJob = Job<Result<std::optional<Advice>>>;

// What would help the shot of that name; of a plan without shots, of the one made for it.
std::unique_ptr<AdviceJob> startAdvising(std::shared_ptr<const LoadedPlan> plan,
                                         std::shared_ptr<const Scene> scene, std::string shot, int threads,
                                         std::function<void()> wake);

}  // namespace petalproof::app
