#pragma once
// Every change that a person can make to a plan, as a small value, and edited(), which makes the changed
// plan. Panels of the window make these values; apply() (action.h) calls edited(). Lengths are in the plan's
// unit, places are as measured with a tape.
//
// An edited plan can always be saved and read again: edited() refuses an edit that breaks a rule of the plan
// file, with the message of the plan file's reader.

#include "engine/base/problem.h"
#include "engine/plan/read_plan.h"
#include "viewer/app/bloom_edits.h"
#include "viewer/app/shot_edits.h"
#include "viewer/app/wall_edits.h"

#include <optional>
#include <string>
#include <variant>

namespace petalproof::app {

using PlanEdit =
    std::variant<MoveBlooms, PlaceBloom, TurnBlooms, SetTurn, RaiseBlooms, ColourBlooms, ExchangeBlooms,
                 CopyBlooms, DeleteBlooms, AddBloom, AddFiller, FixFillers, TakeFillersAway, SetFillers,
                 SetKind, AddKind, DeleteKind, OwnLayout, SetCell, SwapCells, TurnOver, AddLayout,
                 RenameLayout, DeleteLayout, ResizeWall, ResizePanel, SetWallDetails, AddShot, CopyShot,
                 DeleteShot, SetShot, SetTitle, SetUnits, SetReading, SetCopies, SetHands, ReplacePlan>;

struct EditedPlan {
  plan::LoadedPlan plan;
  std::string name;                    // of the step, for Undo: "move bud on drift"
  std::optional<Selection> selection;  // the new selection; nothing: it stays, without targets that are gone
};

// Problems: the edit's target no longer exists, or the plan file's rules forbid the result.
Result<EditedPlan> edited(const plan::LoadedPlan& before, const PlanEdit& edit);

// The selection without blooms and cells that no longer exist.
Selection stillThere(const plan::Plan& plan, const Selection& selection);

// The placement that a reference points at; nullptr where it no longer exists.
const plan::Placement* placementOf(const plan::Plan& plan, const BloomRef& bloom);

}  // namespace petalproof::app
