#include "viewer/app/internal/change_wall.h"

#include "viewer/app/internal/picked.h"
#include "viewer/app/internal/tidied.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace petalproof::app {
namespace {

constexpr const char* panel_gone = "that panel isn't there any more";

plan::Cell& cellAt(plan::Plan& plan, CellRef cell) { return plan.wall.grid.at(cell.column, cell.row); }
std::string nameOf(CellRef cell) { return plan::cellName(cell.column, cell.row); }

int cellsOf(const plan::Plan& plan, const std::string& layout) {
  const auto& cells = plan.wall.grid.cells();
  return static_cast<int>(std::count_if(cells.begin(), cells.end(),
                                        [&](const plan::Cell& cell) { return cell.layout == layout; }));
}

bool isLayout(const plan::Plan& plan, int layout) {
  return layout >= 0 && static_cast<std::size_t>(layout) < plan.layouts.size();
}

// The place on a panel of another length: a place within the old length is kept within the new one, a place
// beyond the old length stays as far beyond the new one.
double keptWithin(double at, double old_length, double length) {
  if (at > old_length) return tidied(length + (at - old_length));
  return std::min(at, std::max(0.0, length));
}

// A place along a row or a column of panels. A place on the seam belongs to the panel before it.
struct OnPanels {
  int panel = 0;
  double at = 0;  // from that panel's edge
};
OnPanels onPanels(double at, double panel, double seam, int count) {
  const int number = std::clamp(static_cast<int>(std::floor(at / (panel + seam))), 0, count - 1);
  return {number, at - number * (panel + seam)};
}

// The place along a row or a column whose panels change; nothing where its panel is gone.
std::optional<double> keptAlong(double at, Length old_panel, Length old_seam, int old_count, Length panel,
                                Length seam, int count) {
  const OnPanels old_place = onPanels(at, old_panel.value, old_seam.value, old_count);
  if (old_place.panel >= count) return std::nullopt;
  return tidied(old_place.panel * (panel.value + seam.value) +
                keptWithin(old_place.at, old_panel.value, panel.value));
}

// The fillers at their places on their panels, on the changed wall; without fillers whose panel is gone.
std::vector<plan::Filler> fillersKept(const plan::Plan& plan, const plan::Wall& to) {
  const plan::Wall& from = plan.wall;
  std::vector<plan::Filler> kept;
  for (plan::Filler filler : plan.fillers) {
    plan::TapePoint& at = filler.placement.at;
    const auto left = keptAlong(at.from_left.value, from.panel.width, from.seam, from.columns, to.panel.width,
                                to.seam, to.columns);
    const auto top = keptAlong(at.from_top.value, from.panel.height, from.seam, from.rows, to.panel.height,
                               to.seam, to.rows);
    if (!left || !top) continue;
    at = {{*left}, {*top}};
    kept.push_back(std::move(filler));
  }
  return kept;
}

// "sun 2": the first name that no layout has.
std::string freeLayoutName(const plan::Plan& plan, const std::string& wanted) {
  std::string name = wanted;
  for (int k = 2; plan::findLayout(plan, name); ++k) name = fmt::format("{} {}", wanted, k);
  return name;
}

}  // namespace

EditOutcome change(plan::Plan& plan, const OwnLayout& edit) {
  if (!isCell(plan, edit.cell) || !cellAt(plan, edit.cell).hasPanel()) return refused(panel_gone);
  plan::Cell& cell = cellAt(plan, edit.cell);
  const plan::Layout* const shared = plan::findLayout(plan, cell.layout);
  if (!shared) return refused(panel_gone);
  if (cellsOf(plan, cell.layout) < 2)
    return refused(fmt::format("no other panel has the layout {}; {} has it for itself", cell.layout,
                               nameOf(edit.cell)));
  plan::Layout own = *shared;
  own.name = freeLayoutName(plan, fmt::format("{} {}", cell.layout, nameOf(edit.cell)));
  cell.layout = own.name;
  plan.layouts.push_back(std::move(own));
  return made("give " + nameOf(edit.cell) + " its own layout");
}

EditOutcome change(plan::Plan& plan, const SetCell& edit) {
  if (!isCell(plan, edit.cell)) return refused(panel_gone);
  cellAt(plan, edit.cell) = edit.to;
  return made(edit.to.hasPanel() ? fmt::format("hang {} at {}", edit.to.layout, nameOf(edit.cell))
                                 : "take the panel from " + nameOf(edit.cell));
}

EditOutcome change(plan::Plan& plan, const SwapCells& edit) {
  if (!isCell(plan, edit.first) || !isCell(plan, edit.second)) return refused(panel_gone);
  std::swap(cellAt(plan, edit.first), cellAt(plan, edit.second));
  return made(fmt::format("swap {} and {}", nameOf(edit.first), nameOf(edit.second)));
}

EditOutcome change(plan::Plan& plan, const TurnOver& edit) {
  if (!isCell(plan, edit.cell) || !cellAt(plan, edit.cell).hasPanel()) return refused(panel_gone);
  plan::Cell& cell = cellAt(plan, edit.cell);
  cell.upside_down = !cell.upside_down;
  return made(
      fmt::format("hang {} {}", nameOf(edit.cell), cell.upside_down ? "upside down" : "right way up"));
}

EditOutcome change(plan::Plan& plan, const AddLayout& edit) {
  plan.layouts.push_back({edit.name, {}});
  return made("add the layout " + edit.name);
}

EditOutcome change(plan::Plan& plan, const RenameLayout& edit) {
  if (!isLayout(plan, edit.layout)) return refused("that layout isn't there any more");
  plan::Layout& layout = plan.layouts[static_cast<std::size_t>(edit.layout)];
  if (layout.name != edit.name && plan::findLayout(plan, edit.name))
    return refused(fmt::format("there is a layout named \"{}\" already; names are unique", edit.name));
  for (plan::Cell& cell : plan.wall.grid.cells())
    if (cell.layout == layout.name) cell.layout = edit.name;
  layout.name = edit.name;
  return made("name a layout " + edit.name);
}

EditOutcome change(plan::Plan& plan, const DeleteLayout& edit) {
  if (!isLayout(plan, edit.layout)) return refused("that layout isn't there any more");
  const std::string name = plan.layouts[static_cast<std::size_t>(edit.layout)].name;
  if (const int used = cellsOf(plan, name))
    return refused(fmt::format("{} hangs in {} {}; hang another layout there first", name, used,
                               used == 1 ? "cell" : "cells"));
  plan.layouts.erase(plan.layouts.begin() + edit.layout);
  return made("delete the layout " + name);
}

EditOutcome change(plan::Plan& plan, const ResizeWall& edit) {
  const plan::PlanLimits limits;
  if (edit.columns < 1 || edit.rows < 1 || edit.columns > limits.columns || edit.rows > limits.rows)
    return refused(fmt::format("a wall has 1 to {} columns and 1 to {} rows", limits.columns, limits.rows));
  plan::Wall to = plan.wall;
  to.columns = edit.columns;
  to.rows = edit.rows;
  to.grid = Grid<plan::Cell>(edit.columns, edit.rows);
  for (int row = 0; row < edit.rows; ++row)
    for (int column = 0; column < edit.columns; ++column)
      to.grid.at(column, row) = plan.wall.grid.at(column % plan.wall.columns, row % plan.wall.rows);
  plan.fillers = fillersKept(plan, to);
  plan.wall = std::move(to);
  return made(fmt::format("make the wall {} by {} panels", edit.columns, edit.rows));
}

EditOutcome change(plan::Plan& plan, const ResizePanel& edit) {
  plan::Wall to = plan.wall;
  to.panel = edit.panel;
  for (plan::Layout& layout : plan.layouts)
    for (plan::Placement& placement : layout.blooms) {
      plan::TapePoint& at = placement.at;
      at.from_left.value = keptWithin(at.from_left.value, plan.wall.panel.width.value, to.panel.width.value);
      at.from_top.value = keptWithin(at.from_top.value, plan.wall.panel.height.value, to.panel.height.value);
    }
  plan.fillers = fillersKept(plan, to);
  plan.wall = std::move(to);
  return made("change the panels' size");
}

EditOutcome change(plan::Plan& plan, const SetWallDetails& edit) {
  plan::Wall to = edit.wall;
  to.columns = plan.wall.columns;
  to.rows = plan.wall.rows;
  to.panel = plan.wall.panel;
  to.grid = plan.wall.grid;
  if (!(to.seam == plan.wall.seam)) plan.fillers = fillersKept(plan, to);
  plan.wall = std::move(to);
  return made("change " + (edit.detail.empty() ? std::string("the wall") : edit.detail));
}

}  // namespace petalproof::app
