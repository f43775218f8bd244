#pragma once
// Carries out edits of the kinds of bloom. edited() (plan_edit.h) calls them with a copy of the
// plan and holds the result to the rules of the plan file.

#include "engine/plan/plan.h"
#include "viewer/app/bloom_edits.h"
#include "viewer/app/internal/edit_outcome.h"

namespace petalproof::app {

EditOutcome change(plan::Plan& plan, const SetKind& edit);
EditOutcome change(plan::Plan& plan, const AddKind& edit);
EditOutcome change(plan::Plan& plan, const DeleteKind& edit);

}  // namespace petalproof::app
