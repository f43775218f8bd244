#pragma once
// Carries out the change to another unit: converts every length of the plan. edited() (plan_edit.h) calls it.

#include "engine/plan/plan.h"
#include "viewer/app/internal/edit_outcome.h"
#include "viewer/app/shot_edits.h"

namespace petalproof::app {

EditOutcome change(plan::Plan& plan, const SetUnits& edit);

}  // namespace petalproof::app
