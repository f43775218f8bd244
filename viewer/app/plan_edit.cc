#include "viewer/app/plan_edit.h"

#include "engine/camera/camera.h"
#include "engine/camera/lens.h"
#include "engine/plan/write_plan.h"
#include "viewer/app/internal/change_blooms.h"
#include "viewer/app/internal/change_kinds.h"
#include "viewer/app/internal/change_shots.h"
#include "viewer/app/internal/change_units.h"
#include "viewer/app/internal/change_wall.h"
#include "viewer/app/internal/picked.h"

#include <algorithm>
#include <type_traits>
#include <utility>

namespace petalproof::app {
namespace {

using Refused = std::vector<Problem>;

// Writes the plan as text and reads it back: the reader of plan files knows all the rules.
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

// Problems of cameras that the edit caused. A shot whose camera was impossible before the edit is let
// through, or it would keep the person from changing anything else.
Refused whyNotCameras(const plan::Plan& plan, const plan::Plan& before) {
  Refused problems;
  const camera::WallFrame old_wall = camera::wallFrameOf(before);
  for (const plan::Shot& shot : plan.shots) {
    const bool is_old = std::find(before.shots.begin(), before.shots.end(), shot) != before.shots.end();
    const Refused found = cameraProblems(shot, camera::wallFrameOf(plan));
    if (is_old && !found.empty() && !cameraProblems(shot, old_wall).empty()) continue;
    problems.insert(problems.end(), found.begin(), found.end());
  }
  return problems;
}

// Without the places of values in the file: they no longer hold once the plan differs from the file.
plan::LoadedPlan withPlan(const plan::LoadedPlan& before, plan::Plan plan) {
  return {std::move(plan), {}, before.file, before.directory};
}

}  // namespace

Result<EditedPlan> edited(const plan::LoadedPlan& before, const PlanEdit& edit) {
  if (const auto* whole = std::get_if<ReplacePlan>(&edit))
    return Result<EditedPlan>::success({*whole->plan, whole->name, std::nullopt});
  plan::Plan plan = before.plan;
  EditOutcome outcome = std::visit(
      [&](const auto& chosen) -> EditOutcome {
        if constexpr (std::is_same_v<std::decay_t<decltype(chosen)>, ReplacePlan>)
          return {};
        else
          return change(plan, chosen);
      },
      edit);
  if (outcome.refused) return Result<EditedPlan>::failure({}, std::move(*outcome.refused));
  Refused problems = whyNotSaved(plan, before);
  if (problems.empty()) problems = whyNotCameras(plan, before.plan);
  if (!problems.empty()) return Result<EditedPlan>::failure(std::move(problems));
  return Result<EditedPlan>::success(
      {withPlan(before, std::move(plan)), std::move(outcome.name), std::move(outcome.selection)});
}

const plan::Placement* placementOf(const plan::Plan& plan, const BloomRef& bloom) {
  const auto spot = spotOf(plan, bloom);
  if (!spot) return nullptr;
  return spot->layout ? &plan.layouts[*spot->layout].blooms[spot->index]
                      : &plan.fillers[spot->index].placement;
}

Selection stillThere(const plan::Plan& plan, const Selection& selection) {
  Selection existing;
  for (const BloomRef& bloom : selection.blooms)
    if (placementOf(plan, bloom)) existing.blooms.push_back(bloom);
  for (const CellRef& cell : selection.cells)
    if (isCell(plan, cell)) existing.cells.push_back(cell);
  return existing;
}

}  // namespace petalproof::app
