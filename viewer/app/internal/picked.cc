#include "viewer/app/internal/picked.h"

#include <fmt/format.h>

#include <algorithm>

namespace petalproof::app {
namespace {

bool isIndexOf(int index, std::size_t count) { return index >= 0 && static_cast<std::size_t>(index) < count; }

Picked pick(plan::Plan& plan, const PlacementSpot& spot) {
  if (!spot.layout) return {&plan.fillers[spot.index].placement, false, nullptr};
  plan::Layout& layout = plan.layouts[*spot.layout];
  return {&layout.blooms[spot.index], spot.upside_down, &layout};
}

bool allOnOneLayout(const std::vector<Picked>& picked) {
  return std::all_of(picked.begin(), picked.end(),
                     [&](const Picked& target) { return target.layout == picked.front().layout; });
}

}  // namespace

std::optional<PlacementSpot> spotOf(const plan::Plan& plan, const BloomRef& bloom) {
  const auto index = static_cast<std::size_t>(std::max(0, bloom.index));
  if (bloom.isFiller()) {
    if (!isIndexOf(bloom.index, plan.fillers.size())) return std::nullopt;
    return PlacementSpot{std::nullopt, index, false};
  }
  if (!isCell(plan, bloom.cell())) return std::nullopt;
  const plan::Cell& cell = plan.wall.grid.at(bloom.column, bloom.row);
  const plan::Layout* const layout = cell.hasPanel() ? plan::findLayout(plan, cell.layout) : nullptr;
  if (!layout || !isIndexOf(bloom.index, layout->blooms.size())) return std::nullopt;
  return PlacementSpot{static_cast<std::size_t>(layout - plan.layouts.data()), index, cell.upside_down};
}

std::optional<std::vector<Picked>> pickedFrom(plan::Plan& plan, const std::vector<BloomRef>& blooms) {
  std::vector<Picked> picked;
  for (const BloomRef& bloom : blooms) {
    const auto spot = spotOf(plan, bloom);
    if (!spot) return std::nullopt;
    const Picked target = pick(plan, *spot);
    const bool known = std::any_of(picked.begin(), picked.end(), [&](const Picked& listed) {
      return listed.placement == target.placement;
    });
    if (!known) picked.push_back(target);
  }
  if (picked.empty()) return std::nullopt;
  return picked;
}

std::string wordsFor(const std::vector<Picked>& picked) {
  const Picked& first = picked.front();
  const bool together = allOnOneLayout(picked);
  if (picked.size() == 1 && !first.layout) return fmt::format("filler {}", first.placement->bloom);
  if (together && !first.layout) return fmt::format("{} fillers", picked.size());
  const std::string blooms =
      picked.size() == 1 ? first.placement->bloom : fmt::format("{} blooms", picked.size());
  return together ? fmt::format("{} on {}", blooms, first.layout->name) : blooms;
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

}  // namespace petalproof::app
