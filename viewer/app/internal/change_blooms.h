#pragma once
// How each edit changes a plan. None of them minds the rules of the plan file: edited() does, for all.

#include "viewer/app/plan_edit.h"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace petalproof::app {

// The name of the step, or why there is none.
struct Made {
  std::string name;
  std::optional<std::string> refused;
  std::optional<Selection> selection;
};
inline Made made(std::string name) { return {std::move(name), std::nullopt, std::nullopt}; }
inline Made refused(std::string why) { return {{}, std::move(why), std::nullopt}; }

Made change(plan::Plan& plan, const MoveBlooms& edit);
Made change(plan::Plan& plan, const PlaceBloom& edit);
Made change(plan::Plan& plan, const TurnBlooms& edit);
Made change(plan::Plan& plan, const SetTurn& edit);
Made change(plan::Plan& plan, const RaiseBlooms& edit);
Made change(plan::Plan& plan, const ColourBlooms& edit);
Made change(plan::Plan& plan, const ExchangeBlooms& edit);
Made change(plan::Plan& plan, const CopyBlooms& edit);
Made change(plan::Plan& plan, const DeleteBlooms& edit);
Made change(plan::Plan& plan, const AddBloom& edit);
Made change(plan::Plan& plan, const AddFiller& edit);
Made change(plan::Plan& plan, const FixFillers& edit);
Made change(plan::Plan& plan, const TakeFillersAway& edit);
Made change(plan::Plan& plan, const SetFillers& edit);
Made change(plan::Plan& plan, const SetKind& edit);
Made change(plan::Plan& plan, const AddKind& edit);
Made change(plan::Plan& plan, const DeleteKind& edit);
Made change(plan::Plan& plan, const OwnLayout& edit);
Made change(plan::Plan& plan, const SetCell& edit);
Made change(plan::Plan& plan, const SwapCells& edit);
Made change(plan::Plan& plan, const TurnOver& edit);
Made change(plan::Plan& plan, const AddLayout& edit);
Made change(plan::Plan& plan, const RenameLayout& edit);
Made change(plan::Plan& plan, const DeleteLayout& edit);
Made change(plan::Plan& plan, const ResizeWall& edit);
Made change(plan::Plan& plan, const ResizePanel& edit);
Made change(plan::Plan& plan, const SetWallDetails& edit);
Made change(plan::Plan& plan, const AddShot& edit);
Made change(plan::Plan& plan, const CopyShot& edit);
Made change(plan::Plan& plan, const DeleteShot& edit);
Made change(plan::Plan& plan, const SetShot& edit);
Made change(plan::Plan& plan, const SetTitle& edit);
Made change(plan::Plan& plan, const SetUnits& edit);
Made change(plan::Plan& plan, const SetReading& edit);
Made change(plan::Plan& plan, const SetCopies& edit);
Made change(plan::Plan& plan, const SetHands& edit);

// A placement of the plan, once, however many cells it was picked in.
struct Picked {
  plan::Placement* placement = nullptr;
  bool upside_down = false;        // as hung where it was picked
  plan::Layout* layout = nullptr;  // nullptr: a filler
};
// Nothing where one of them isn't there any more.
std::optional<std::vector<Picked>> pickedFrom(plan::Plan& plan, const std::vector<BloomRef>& blooms);
// "bud on drift", "3 blooms on drift", "3 blooms", "filler bud", "3 fillers".
std::string wordsFor(const std::vector<Picked>& picked);

bool isCell(const plan::Plan& plan, CellRef cell);
plan::Layout* layoutNamed(plan::Plan& plan, const std::string& name);
// "sun 2": the first that no layout (shot) has.
std::string freeLayoutName(const plan::Plan& plan, const std::string& wanted);

// To a ten-thousandth of the unit, so that a dragged number stays short in the file.
double tidied(double value);
inline Length tidied(Length length) { return {tidied(length.value)}; }
plan::TapePoint tidied(plan::TapePoint at);

// Fillers at the places of their panels, of a wall whose panels change; those of panels that go are left out.
std::vector<plan::Filler> fillersKept(const plan::Plan& plan, const plan::Wall& to);

}  // namespace petalproof::app
