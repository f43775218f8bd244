#pragma once
// Finds what references (references.h) point at in a plan. The edits of this folder call it before they
// change anything; each function says what it returns where the target is gone.

#include "engine/plan/plan.h"
#include "viewer/app/references.h"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace petalproof::app {

// Where a placement stands in a plan.
struct PlacementSpot {
  std::optional<std::size_t> layout;  // its index; nothing for a filler
  std::size_t index = 0;              // in that layout, or in Plan::fillers
  bool upside_down = false;           // as hung in the reference's cell
};
std::optional<PlacementSpot> spotOf(const plan::Plan& plan, const BloomRef& bloom);

// A placement of the plan; listed once, however many cells it was picked in.
struct Picked {
  plan::Placement* placement = nullptr;
  bool upside_down = false;        // as hung where it was picked
  plan::Layout* layout = nullptr;  // nullptr: a filler
};
// Nothing where the list is empty or a bloom of it no longer exists.
std::optional<std::vector<Picked>> pickedFrom(plan::Plan& plan, const std::vector<BloomRef>& blooms);
// "bud on drift", "3 blooms on drift", "3 blooms", "filler bud", "3 fillers".
std::string wordsFor(const std::vector<Picked>& picked);

bool isCell(const plan::Plan& plan, CellRef cell);
plan::Layout* layoutNamed(plan::Plan& plan, const std::string& name);  // nullptr: there is none

}  // namespace petalproof::app
