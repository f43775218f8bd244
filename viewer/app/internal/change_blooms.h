#pragma once
// Carries out edits of blooms and fillers. edited() (plan_edit.h) calls them with a copy of the
// plan and holds the result to the rules of the plan file.

#include "engine/plan/plan.h"
#include "viewer/app/bloom_edits.h"
#include "viewer/app/internal/edit_outcome.h"

namespace petalproof::app {

EditOutcome change(plan::Plan& plan, const MoveBlooms& edit);
EditOutcome change(plan::Plan& plan, const PlaceBloom& edit);
EditOutcome change(plan::Plan& plan, const TurnBlooms& edit);
EditOutcome change(plan::Plan& plan, const SetTurn& edit);
EditOutcome change(plan::Plan& plan, const RaiseBlooms& edit);
EditOutcome change(plan::Plan& plan, const ColourBlooms& edit);
EditOutcome change(plan::Plan& plan, const ExchangeBlooms& edit);
EditOutcome change(plan::Plan& plan, const CopyBlooms& edit);
EditOutcome change(plan::Plan& plan, const DeleteBlooms& edit);
EditOutcome change(plan::Plan& plan, const AddBloom& edit);
EditOutcome change(plan::Plan& plan, const AddFiller& edit);
EditOutcome change(plan::Plan& plan, const FixFillers& edit);
EditOutcome change(plan::Plan& plan, const TakeFillersAway& edit);
EditOutcome change(plan::Plan& plan, const SetFillers& edit);

}  // namespace petalproof::app
