// What references mean in a plan.

#include "viewer/app/internal/edits.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace petalproof::app {
namespace {

bool isIndexOf(int index, std::size_t count) { return index >= 0 && static_cast<std::size_t>(index) < count; }

// Where a placement stands in a plan; `layout` is nothing for a filler.
struct Spot {
  std::optional<std::size_t> layout;
  std::size_t index = 0;
  bool upside_down = false;
};

std::optional<Spot> spotOf(const plan::Plan& plan, const BloomRef& bloom) {
  const auto index = static_cast<std::size_t>(std::max(0, bloom.index));
  if (bloom.isFiller()) {
    if (!isIndexOf(bloom.index, plan.fillers.size())) return std::nullopt;
    return Spot{std::nullopt, index, false};
  }
  if (!isCell(plan, bloom.cell())) return std::nullopt;
  const plan::Cell& cell = plan.wall.grid.at(bloom.column, bloom.row);
  const plan::Layout* const layout = cell.hasPanel() ? plan::findLayout(plan, cell.layout) : nullptr;
  if (!layout || !isIndexOf(bloom.index, layout->blooms.size())) return std::nullopt;
  return Spot{static_cast<std::size_t>(layout - plan.layouts.data()), index, cell.upside_down};
}

Picked pick(plan::Plan& plan, const Spot& spot) {
  if (!spot.layout) return {&plan.fillers[spot.index].placement, false, nullptr};
  plan::Layout& layout = plan.layouts[*spot.layout];
  return {&layout.blooms[spot.index], spot.upside_down, &layout};
}

bool allOnOneLayout(const std::vector<Picked>& picked) {
  return std::all_of(picked.begin(), picked.end(),
                     [&](const Picked& each) { return each.layout == picked.front().layout; });
}

}  // namespace

std::optional<std::vector<Picked>> pickedFrom(plan::Plan& plan, const std::vector<BloomRef>& blooms) {
  std::vector<Picked> picked;
  for (const BloomRef& bloom : blooms) {
    const auto spot = spotOf(plan, bloom);
    if (!spot) return std::nullopt;
    const Picked one = pick(plan, *spot);
    const bool known = std::any_of(picked.begin(), picked.end(),
                                   [&](const Picked& each) { return each.placement == one.placement; });
    if (!known) picked.push_back(one);
  }
  if (picked.empty()) return std::nullopt;
  return picked;
}

std::string wordsFor(const std::vector<Picked>& picked) {
  const Picked& first = picked.front();
  const bool together = allOnOneLayout(picked);
  if (picked.size() == 1 && !first.layout) return fmt::format("filler {}", first.placement->bloom);
  if (together && !first.layout) return fmt::format("{} fillers", picked.size());
  const std::string what =
      picked.size() == 1 ? first.placement->bloom : fmt::format("{} blooms", picked.size());
  return together ? fmt::format("{} on {}", what, first.layout->name) : what;
}

const plan::Placement* placementOf(const plan::Plan& plan, const BloomRef& bloom) {
  const auto spot = spotOf(plan, bloom);
  if (!spot) return nullptr;
  return spot->layout ? &plan.layouts[*spot->layout].blooms[spot->index]
                      : &plan.fillers[spot->index].placement;
}

Selection thoseThere(const plan::Plan& plan, const Selection& selection) {
  Selection there;
  for (const BloomRef& bloom : selection.blooms)
    if (placementOf(plan, bloom)) there.blooms.push_back(bloom);
  for (const CellRef& cell : selection.cells)
    if (isCell(plan, cell)) there.cells.push_back(cell);
  return there;
}

bool isCell(const plan::Plan& plan, CellRef cell) {
  return cell.column >= 0 && cell.row >= 0 && cell.column < plan.wall.grid.columns() &&
         cell.row < plan.wall.grid.rows();
}

plan::Layout* layoutNamed(plan::Plan& plan, const std::string& name) {
  const auto found = std::find_if(plan.layouts.begin(), plan.layouts.end(),
                                  [&](const plan::Layout& layout) { return layout.name == name; });
  return found == plan.layouts.end() ? nullptr : &*found;
}

std::string freeLayoutName(const plan::Plan& plan, const std::string& wanted) {
  std::string name = wanted;
  for (int k = 2; plan::findLayout(plan, name); ++k) name = fmt::format("{} {}", wanted, k);
  return name;
}

double tidied(double value) {
  constexpr double parts = 10'000;
  return std::round(value * parts) / parts;
}

plan::TapePoint tidied(plan::TapePoint at) { return {tidied(at.from_left), tidied(at.from_top)}; }

}  // namespace petalproof::app
