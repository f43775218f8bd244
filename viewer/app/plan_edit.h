#pragma once
// Changes to a plan, one small value each. Lengths are in the plan's unit, places as with a tape.
//
// An edit never makes a plan that couldn't be saved and read again: what would break a rule of the plan file
// is refused, with the reason in the reader's words.

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
  std::string name;  // "move bud on drift"
  std::optional<Selection>
      selection;  // of what is new; nothing: it stays, as far as it still means something
};

// Problems: what the edit points at isn't there, or the plan file doesn't take the result.
Result<EditedPlan> edited(const plan::LoadedPlan& before, const PlanEdit& edit);

// What of a selection is still there.
Selection thoseThere(const plan::Plan& plan, const Selection& selection);

// The placement that a reference means; nullptr: nothing is there.
const plan::Placement* placementOf(const plan::Plan& plan, const BloomRef& bloom);

}  // namespace petalproof::app
