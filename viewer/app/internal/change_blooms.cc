#include "viewer/app/bloom_edits.h"

#include "viewer/app/internal/edits.h"

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

// 0 to 360.
double turned(double turn_deg) {
  const double rest = std::fmod(turn_deg, 360.0);
  return tidied(rest < 0 ? rest + 360.0 : rest);
}

// Does the same to each placement that was picked.
template <class Body>
Made toEach(plan::Plan& plan, const std::vector<BloomRef>& blooms, const char* doing, const Body& body) {
  const auto picked = pickedFrom(plan, blooms);
  if (!picked) return refused(picked_gone);
  Made done = made(fmt::format("{} {}", doing, wordsFor(*picked)));
  for (const Picked& one : *picked) body(one);
  return done;
}

plan::TapePoint onLayout(const plan::Plan& plan, CellRef cell, plan::TapePoint at_as_hung) {
  const plan::Size& panel = plan.wall.panel;
  if (!plan.wall.grid.at(cell.column, cell.row).upside_down) return tidied(at_as_hung);
  return tidied(plan::TapePoint{{panel.width.value - at_as_hung.from_left.value},
                                {panel.height.value - at_as_hung.from_top.value}});
}

}  // namespace

Made change(plan::Plan& plan, const MoveBlooms& edit) {
  return toEach(plan, edit.blooms, "move", [&](const Picked& one) {
    one.placement->at = moved(one.placement->at, edit.by, one.upside_down);
  });
}

Made change(plan::Plan& plan, const PlaceBloom& edit) {
  return toEach(plan, {edit.bloom}, "move", [&](const Picked& one) { one.placement->at = edit.at; });
}

Made change(plan::Plan& plan, const TurnBlooms& edit) {
  return toEach(plan, edit.blooms, "turn", [&](const Picked& one) {
    one.placement->turn_deg = turned(one.placement->turn_deg + edit.by_deg);
  });
}

Made change(plan::Plan& plan, const SetTurn& edit) {
  return toEach(plan, edit.blooms, "turn",
                [&](const Picked& one) { one.placement->turn_deg = edit.turn_deg; });
}

Made change(plan::Plan& plan, const RaiseBlooms& edit) {
  return toEach(plan, edit.blooms, "raise", [&](const Picked& one) { one.placement->raised = edit.raised; });
}

Made change(plan::Plan& plan, const ColourBlooms& edit) {
  return toEach(plan, edit.blooms, "colour", [&](const Picked& one) { one.placement->colour = edit.colour; });
}

Made change(plan::Plan& plan, const ExchangeBlooms& edit) {
  Made done = toEach(plan, edit.blooms, "exchange", [&](const Picked& one) {
    if (one.placement->bloom != edit.kind) one.placement->colour.reset();
    one.placement->bloom = edit.kind;
  });
  if (!done.refused) done.name += " for " + edit.kind;
  return done;
}

Made change(plan::Plan& plan, const CopyBlooms& edit) {
  const auto picked = pickedFrom(plan, edit.blooms);
  if (!picked) return refused(picked_gone);
  Made done = made("copy " + wordsFor(*picked));
  std::set<const plan::Placement*> copied;
  Selection copies;
  // By reference, not by what was picked: adding to a layout moves its placements in memory.
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
  done.selection = copies;
  return done;
}

Made change(plan::Plan& plan, const DeleteBlooms& edit) {
  const auto picked = pickedFrom(plan, edit.blooms);
  if (!picked) return refused(picked_gone);
  Made done = made("delete " + wordsFor(*picked));
  std::set<const plan::Placement*> doomed;
  for (const Picked& one : *picked) doomed.insert(one.placement);
  // Marked first: erasing moves the others in memory.
  const auto keep = [&](auto& from, const auto& placementIn) {
    std::remove_reference_t<decltype(from)> kept;
    for (auto& each : from)
      if (!doomed.contains(&placementIn(each))) kept.push_back(std::move(each));
    from = std::move(kept);
  };
  for (plan::Layout& layout : plan.layouts)
    keep(layout.blooms, [](const plan::Placement& each) -> const plan::Placement& { return each; });
  keep(plan.fillers, [](const plan::Filler& each) -> const plan::Placement& { return each.placement; });
  done.selection = Selection{};
  return done;
}

Made change(plan::Plan& plan, const AddBloom& edit) {
  if (!isCell(plan, edit.cell)) return refused(picked_gone);
  const plan::Cell& cell = plan.wall.grid.at(edit.cell.column, edit.cell.row);
  plan::Layout* const layout = cell.hasPanel() ? layoutNamed(plan, cell.layout) : nullptr;
  if (!layout)
    return refused(fmt::format("no panel hangs at {}: give the cell a layout first",
                               plan::cellName(edit.cell.column, edit.cell.row)));
  plan::Placement placement;
  placement.bloom = edit.kind;
  placement.at = onLayout(plan, edit.cell, edit.at);
  Made done = made(fmt::format("add {} to {}", edit.kind, layout->name));
  done.selection =
      Selection{{{edit.cell.column, edit.cell.row, static_cast<int>(layout->blooms.size())}}, {}};
  layout->blooms.push_back(placement);
  return done;
}

Made change(plan::Plan& plan, const AddFiller& edit) {
  Made done = made("add filler " + edit.filler.placement.bloom);
  done.selection = Selection{{{-1, -1, static_cast<int>(plan.fillers.size())}}, {}};
  plan.fillers.push_back(edit.filler);
  plan.fillers.back().placement.at = tidied(edit.filler.placement.at);
  return done;
}

Made change(plan::Plan& plan, const FixFillers& edit) {
  for (const int filler : edit.fillers) {
    if (filler < 0 || static_cast<std::size_t>(filler) >= plan.fillers.size()) return refused(picked_gone);
    plan.fillers[static_cast<std::size_t>(filler)].fixed = edit.fixed;
  }
  const char* const doing = edit.fixed ? "fix" : "release";
  return edit.fillers.size() == 1 ? made(fmt::format("{} a filler", doing))
                                  : made(fmt::format("{} {} fillers", doing, edit.fillers.size()));
}

Made change(plan::Plan& plan, const TakeFillersAway& edit) {
  const std::size_t before = plan.fillers.size();
  std::erase_if(plan.fillers, [&](const plan::Filler& filler) { return edit.fixed_too || !filler.fixed; });
  const std::size_t away = before - plan.fillers.size();
  if (away == 0) return refused("there is no filler to take away");
  return made(fmt::format("take {} {} away", away, away == 1 ? "filler" : "fillers"));
}

Made change(plan::Plan& plan, const SetFillers& edit) {
  const std::size_t before = plan.fillers.size();
  plan.fillers = edit.fillers;
  const std::size_t added = edit.fillers.size() > before ? edit.fillers.size() - before : 0;
  return made(added == 0 ? std::string("place the fillers anew")
                         : fmt::format("place {} {}", added, added == 1 ? "filler" : "fillers"));
}

}  // namespace petalproof::app
