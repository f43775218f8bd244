#pragma once
// Starts the searches that take long as jobs (job.h): for fillers, and for advice on a shot. The session
// calls these functions and takes the results.

#include "engine/advice/advice.h"
#include "engine/base/pool.h"
#include "engine/base/problem.h"
#include "engine/fill/fill.h"
#include "engine/plan/read_plan.h"
#include "viewer/app/job.h"
#include "viewer/app/state.h"

#include <functional>
#include <memory>
#include <optional>
#include <string>

namespace petalproof::app {

// No value: the search was stopped, and nothing of it is kept.
using FillJob = Job<Result<std::optional<fill::FillResult>>>;

// The job sets the options' `progress` and `stop` itself. The pool must outlive it.
std::unique_ptr<FillJob> startFilling(std::shared_ptr<const plan::LoadedPlan> plan, fill::FillOptions options,
                                      const Pool& pool, std::function<void()> wake);
// The part of a result that the window shows.
FillNews newsOf(const fill::FillResult& result);

// No value: the search was stopped.
using AdviceJob = Job<Result<std::optional<advice::Advice>>>;

// Advice on the shot of that name, in shotsOf(plan). The pool must outlive the job.
std::unique_ptr<AdviceJob> startAdvising(std::shared_ptr<const plan::LoadedPlan> plan,
                                         std::shared_ptr<const scene::Scene> scene, std::string shot,
                                         const Pool& pool, std::function<void()> wake);

}  // namespace petalproof::app
