#include "viewer/app/internal/change_blooms.h"

#include "viewer/app/internal/picked.h"
#include "viewer/app/internal/tidied.h"
#include "viewer/app/plan_edit.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

namespace petalproof::app {
namespace {

constexpr const char* picked_gone = "what was picked isn't there any more";

plan::TapePoint moved(plan::TapePoint at, plan::TapePoint by, bool upside_down) {
  const double sign = upside_down ? -1 : 1;
  return tidied(plan::TapePoint{{at.from_left.value + sign * by.from_left.value},
                                {at.from_top.value + sign * by.from_top.value}});
}

// The same turn within 0 to 360.
double turned(double turn_deg) {
  constexpr double full_turn_deg = 360;
  const double remainder = std::fmod(turn_deg, full_turn_deg);
  return tidied(remainder < 0 ? remainder + full_turn_deg : remainder);
}

// Calls `body` for each picked placement. `doing` begins the name of the step: "move".
template <class Body>
EditOutcome toEach(plan::Plan& plan, const std::vector<BloomRef>& blooms, const char* doing,
                   const Body& body) {
  const auto picked = pickedFrom(plan, blooms);
  if (!picked) return refused(picked_gone);
  EditOutcome outcome = made(fmt::format("{} {}", doing, wordsFor(*picked)));
  for (const Picked& target : *picked) body(target);
  return outcome;
}

// From a place on the panel as hung to the place in its layout.
plan::TapePoint onLayout(const plan::Plan& plan, CellRef cell, plan::TapePoint at_as_hung) {
  const plan::Size& panel = plan.wall.panel;
  if (!plan.wall.grid.at(cell.column, cell.row).upside_down) return tidied(at_as_hung);
  return tidied(plan::TapePoint{{panel.width.value - at_as_hung.from_left.value},
                                {panel.height.value - at_as_hung.from_top.value}});
}

}  // namespace

EditOutcome change(plan::Plan& plan, const MoveBlooms& edit) {
  return toEach(plan, edit.blooms, "move", [&](const Picked& target) {
    target.placement->at = moved(target.placement->at, edit.by, target.upside_down);
  });
}

EditOutcome change(plan::Plan& plan, const PlaceBloom& edit) {
  return toEach(plan, {edit.bloom}, "move", [&](const Picked& target) { target.placement->at = edit.at; });
}

EditOutcome change(plan::Plan& plan, const TurnBlooms& edit) {
  return toEach(plan, edit.blooms, "turn", [&](const Picked& target) {
    target.placement->turn_deg = turned(target.placement->turn_deg + edit.by_deg);
  });
}

EditOutcome change(plan::Plan& plan, const SetTurn& edit) {
  return toEach(plan, edit.blooms, "turn",
                [&](const Picked& target) { target.placement->turn_deg = edit.turn_deg; });
}

EditOutcome change(plan::Plan& plan, const RaiseBlooms& edit) {
  return toEach(plan, edit.blooms, "raise",
                [&](const Picked& target) { target.placement->raised = edit.raised; });
}

EditOutcome change(plan::Plan& plan, const ColourBlooms& edit) {
  return toEach(plan, edit.blooms, "colour",
                [&](const Picked& target) { target.placement->colour = edit.colour; });
}

EditOutcome change(plan::Plan& plan, const ExchangeBlooms& edit) {
  EditOutcome outcome = toEach(plan, edit.blooms, "exchange", [&](const Picked& target) {
    if (target.placement->bloom != edit.kind) target.placement->colour.reset();
    target.placement->bloom = edit.kind;
  });
  if (!outcome.refused) outcome.name += " for " + edit.kind;
  return outcome;
}

EditOutcome change(plan::Plan& plan, const CopyBlooms& edit) {
  const auto picked = pickedFrom(plan, edit.blooms);
  if (!picked) return refused(picked_gone);
  EditOutcome outcome = made("copy " + wordsFor(*picked));
  std::set<const plan::Placement*> copied;
  Selection copies;
  // The originals are read from a copy: adding to a layout moves its placements in memory.
  const plan::Plan before = plan;
  for (const BloomRef& bloom : edit.blooms) {
    const plan::Placement* const original = placementOf(before, bloom);
    if (!copied.insert(original).second) continue;
    const bool upside_down = !bloom.isFiller() && plan.wall.grid.at(bloom.column, bloom.row).upside_down;
    plan::Placement copy = *original;
    copy.at = moved(copy.at, edit.by, upside_down);
    if (bloom.isFiller()) {
      copies.blooms.push_back({-1, -1, static_cast<int>(plan.fillers.size())});
      plan.fillers.push_back({copy, before.fillers[static_cast<std::size_t>(bloom.index)].fixed});
    } else {
      plan::Layout& layout = *layoutNamed(plan, plan.wall.grid.at(bloom.column, bloom.row).layout);
      copies.blooms.push_back({bloom.column, bloom.row, static_cast<int>(layout.blooms.size())});
      layout.blooms.push_back(copy);
    }
  }
  outcome.selection = copies;
  return outcome;
}

EditOutcome change(plan::Plan& plan, const DeleteBlooms& edit) {
  const auto picked = pickedFrom(plan, edit.blooms);
  if (!picked) return refused(picked_gone);
  EditOutcome outcome = made("delete " + wordsFor(*picked));
  std::set<const plan::Placement*> doomed;
  for (const Picked& target : *picked) doomed.insert(target.placement);
  // All addresses are collected before the first removal, which moves placements in memory.
  const auto keep = [&](auto& from, const auto& placementIn) {
    std::remove_reference_t<decltype(from)> kept;
    for (auto& entry : from)
      if (!doomed.contains(&placementIn(entry))) kept.push_back(std::move(entry));
    from = std::move(kept);
  };
  for (plan::Layout& layout : plan.layouts)
    keep(layout.blooms, [](const plan::Placement& placement) -> const plan::Placement& { return placement; });
  keep(plan.fillers, [](const plan::Filler& filler) -> const plan::Placement& { return filler.placement; });
  outcome.selection = Selection{};
  return outcome;
}

EditOutcome change(plan::Plan& plan, const AddBloom& edit) {
  if (!isCell(plan, edit.cell)) return refused(picked_gone);
  const plan::Cell& cell = plan.wall.grid.at(edit.cell.column, edit.cell.row);
  plan::Layout* const layout = cell.hasPanel() ? layoutNamed(plan, cell.layout) : nullptr;
  if (!layout)
    return refused(fmt::format("no panel hangs at {}: give the cell a layout first",
                               plan::cellName(edit.cell.column, edit.cell.row)));
  plan::Placement placement;
  placement.bloom = edit.kind;
  placement.at = onLayout(plan, edit.cell, edit.at);
  EditOutcome outcome = made(fmt::format("add {} to {}", edit.kind, layout->name));
  outcome.selection =
      Selection{{{edit.cell.column, edit.cell.row, static_cast<int>(layout->blooms.size())}}, {}};
  layout->blooms.push_back(placement);
  return outcome;
}

EditOutcome change(plan::Plan& plan, const AddFiller& edit) {
  EditOutcome outcome = made("add filler " + edit.filler.placement.bloom);
  outcome.selection = Selection{{{-1, -1, static_cast<int>(plan.fillers.size())}}, {}};
  plan.fillers.push_back(edit.filler);
  plan.fillers.back().placement.at = tidied(edit.filler.placement.at);
  return outcome;
}

EditOutcome change(plan::Plan& plan, const FixFillers& edit) {
  for (const int filler : edit.fillers) {
    if (filler < 0 || static_cast<std::size_t>(filler) >= plan.fillers.size()) return refused(picked_gone);
    plan.fillers[static_cast<std::size_t>(filler)].fixed = edit.fixed;
  }
  const char* const doing = edit.fixed ? "fix" : "release";
  return edit.fillers.size() == 1 ? made(fmt::format("{} a filler", doing))
                                  : made(fmt::format("{} {} fillers", doing, edit.fillers.size()));
}

EditOutcome change(plan::Plan& plan, const TakeFillersAway& edit) {
  const std::size_t before = plan.fillers.size();
  std::erase_if(plan.fillers, [&](const plan::Filler& filler) { return edit.fixed_too || !filler.fixed; });
  const std::size_t removed = before - plan.fillers.size();
  if (removed == 0) return refused("there is no filler to take away");
  return made(fmt::format("take {} {} away", removed, removed == 1 ? "filler" : "fillers"));
}

EditOutcome change(plan::Plan& plan, const SetFillers& edit) {
  const std::size_t before = plan.fillers.size();
  plan.fillers = edit.fillers;
  const std::size_t added = edit.fillers.size() > before ? edit.fillers.size() - before : 0;
  return made(added == 0 ? std::string("place the fillers anew")
                         : fmt::format("place {} {}", added, added == 1 ? "filler" : "fillers"));
}

}  // namespace petalproof::app
