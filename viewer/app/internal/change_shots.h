#pragma once
// Carries out edits of shots and of the plan as a whole, except its unit. edited() (plan_edit.h) calls them
// with a copy of the plan and holds the result to the rules of the plan file.

#include "engine/plan/plan.h"
#include "viewer/app/internal/edit_outcome.h"
#include "viewer/app/shot_edits.h"

namespace petalproof::app {

EditOutcome change(plan::Plan& plan, const AddShot& edit);
EditOutcome change(plan::Plan& plan, const CopyShot& edit);
EditOutcome change(plan::Plan& plan, const DeleteShot& edit);
EditOutcome change(plan::Plan& plan, const SetShot& edit);
EditOutcome change(plan::Plan& plan, const SetTitle& edit);
EditOutcome change(plan::Plan& plan, const SetReading& edit);
EditOutcome change(plan::Plan& plan, const SetCopies& edit);
EditOutcome change(plan::Plan& plan, const SetHands& edit);

}  // namespace petalproof::app
