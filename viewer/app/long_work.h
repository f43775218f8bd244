#pragma once
// The work that takes long: fillers, and what would help a shot.

#include "engine/advice/advice.h"
#include "engine/base/problem.h"
#include "engine/fill/fill.h"
#include "engine/plan/read_plan.h"
#include "viewer/app/job.h"
#include "viewer/app/state.h"

#include <memory>
#include <string>

namespace petalproof::app {

using FillJob = Job<Result<fill::FillResult>>;

// The options' own progress and cancelled are not used.
std::unique_ptr<FillJob> startFilling(std::shared_ptr<const plan::LoadedPlan> plan, fill::FillOptions options,
                                      std::function<void()> wake);
// What is worth telling of a result.
FillNews newsOf(const fill::FillResult& result);

// No value: it was stopped.
using AdviceJob = Job<Result<std::optional<advice::Advice>>>;

// What would help the shot of that name; of a plan without shots, of the one made for it.
std::unique_ptr<AdviceJob> startAdvising(std::shared_ptr<const plan::LoadedPlan> plan,
                                         std::shared_ptr<const scene::Scene> scene, std::string shot,
                                         int threads, std::function<void()> wake);

}  // namespace petalproof::app
