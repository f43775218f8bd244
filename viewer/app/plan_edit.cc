#include "viewer/app/plan_edit.h"

#include "engine/camera/camera.h"
#include "engine/camera/lens.h"
#include "engine/plan/write_plan.h"
#include "viewer/app/internal/edits.h"

#include <algorithm>
#include <type_traits>
#include <utility>

namespace petalproof::app {
namespace {

using Refused = std::vector<Problem>;

// The reader of plan files knows all the rules: what it makes of the plan's text has to be the plan.
Refused whyNotSaved(const plan::Plan& plan, const plan::LoadedPlan& before) {
  const auto again = plan::readPlan(plan::writePlan(plan), before.file, before.directory);
  if (!again) return again.problems;
  if (!(again.value->plan == plan)) return {{{}, "this can't be written to a plan file"}};
  return {};
}

Refused cameraProblems(const plan::Shot& shot, const camera::WallFrame& wall) {
  Refused problems;
  for (const plan::Shot& end : camera::zoomEnds(shot)) {
    const auto camera = camera::makeCamera(end, wall);
    problems.insert(problems.end(), camera.problems.begin(), camera.problems.end());
  }
  return problems;
}

// A shot that was wrong before mustn't keep anything else from being mended.
Refused whyNotCameras(const plan::Plan& plan, const plan::Plan& before) {
  Refused problems;
  const camera::WallFrame old_wall = camera::wallFrameOf(before);
  for (const plan::Shot& shot : plan.shots) {
    const bool old = std::find(before.shots.begin(), before.shots.end(), shot) != before.shots.end();
    const Refused found = cameraProblems(shot, camera::wallFrameOf(plan));
    if (old && !found.empty() && !cameraProblems(shot, old_wall).empty()) continue;
    problems.insert(problems.end(), found.begin(), found.end());
  }
  return problems;
}

// Where things stand in a file means nothing once the plan differs from it.
plan::LoadedPlan withPlan(const plan::LoadedPlan& before, plan::Plan plan) {
  return {std::move(plan), {}, before.file, before.directory};
}

}  // namespace

Result<EditedPlan> edited(const plan::LoadedPlan& before, const PlanEdit& edit) {
  if (const auto* whole = std::get_if<ReplacePlan>(&edit))
    return Result<EditedPlan>::success({*whole->plan, whole->name, std::nullopt});
  plan::Plan plan = before.plan;
  Made done = std::visit(
      [&](const auto& one) -> Made {
        if constexpr (std::is_same_v<std::decay_t<decltype(one)>, ReplacePlan>)
          return {};
        else
          return change(plan, one);
      },
      edit);
  if (done.refused) return Result<EditedPlan>::failure({}, std::move(*done.refused));
  Refused problems = whyNotSaved(plan, before);
  if (problems.empty()) problems = whyNotCameras(plan, before.plan);
  if (!problems.empty()) return Result<EditedPlan>::failure(std::move(problems));
  return Result<EditedPlan>::success(
      {withPlan(before, std::move(plan)), std::move(done.name), std::move(done.selection)});
}

}  // namespace petalproof::app
