#pragma once
// Carries out edits of layouts, cells and the wall. edited() (plan_edit.h) calls them with a copy of the
// plan and holds the result to the rules of the plan file.

#include "engine/plan/plan.h"
#include "viewer/app/internal/edit_outcome.h"
#include "viewer/app/wall_edits.h"

namespace petalproof::app {

EditOutcome change(plan::Plan& plan, const OwnLayout& edit);
EditOutcome change(plan::Plan& plan, const SetCell& edit);
EditOutcome change(plan::Plan& plan, const SwapCells& edit);
EditOutcome change(plan::Plan& plan, const TurnOver& edit);
EditOutcome change(plan::Plan& plan, const AddLayout& edit);
EditOutcome change(plan::Plan& plan, const RenameLayout& edit);
EditOutcome change(plan::Plan& plan, const DeleteLayout& edit);
EditOutcome change(plan::Plan& plan, const ResizeWall& edit);
EditOutcome change(plan::Plan& plan, const ResizePanel& edit);
EditOutcome change(plan::Plan& plan, const SetWallDetails& edit);

}  // namespace petalproof::app
