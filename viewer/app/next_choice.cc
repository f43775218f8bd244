#include "viewer/app/next_choice.h"

#include <glm/geometric.hpp>
#include <glm/vec2.hpp>

#include <algorithm>
#include <cmath>

namespace petalproof::app {
namespace {

BloomRef refOf(const scene::BloomInstance& bloom) {
  return {bloom.panel_column, bloom.panel_row, bloom.index};
}

const scene::BloomInstance* chosenBloom(const State& state) {
  if (state.selection.blooms.empty()) return nullptr;
  const auto& blooms = state.live.scene->blooms;
  const auto found = std::find_if(blooms.begin(), blooms.end(), [&](const scene::BloomInstance& bloom) {
    return refOf(bloom) == state.selection.blooms.back();
  });
  return found != blooms.end() ? &*found : nullptr;
}

}  // namespace

std::optional<BloomRef> nextBloom(const State& state, int right, int down) {
  if (!state.hasPlan() || !state.live.scene) return std::nullopt;
  const scene::PanelGrid& panels = state.live.scene->panels;
  const scene::BloomInstance* const from = chosenBloom(state);
  const bool anywhere = from == nullptr || (right == 0 && down == 0);
  const glm::dvec2 start =
      from != nullptr ? from->at_mm : glm::dvec2(panels.width_mm(), panels.height_mm()) / 2.0;
  const glm::dvec2 direction(right, -down);
  const scene::BloomInstance* nearest = nullptr;
  double least = 0;
  for (const scene::BloomInstance& bloom : state.live.scene->blooms) {
    const glm::dvec2 by = bloom.at_mm - start;
    const double along = glm::dot(by, direction);
    const double aside = std::abs(by.x * direction.y - by.y * direction.x);
    if (!anywhere && (&bloom == from || along <= 0 || aside > along)) continue;
    // A bloom to the side counts as farther than a bloom straight ahead.
    constexpr double aside_weight = 2;
    const double cost = anywhere ? glm::length(by) : along + aside_weight * aside;
    if (nearest != nullptr && cost >= least) continue;
    nearest = &bloom;
    least = cost;
  }
  return nearest != nullptr ? std::optional(refOf(*nearest)) : std::nullopt;
}

std::optional<CellRef> nextPanel(const State& state, int right, int down) {
  if (!state.hasPlan()) return std::nullopt;
  const plan::Wall& wall = state.plan().wall;
  CellRef cell{wall.columns / 2, wall.rows / 2};
  if (!state.selection.cells.empty()) {
    cell = state.selection.cells.back();
    cell = {cell.column + right, cell.row + down};
  } else if (!state.selection.blooms.empty() && !state.selection.blooms.back().isFiller()) {
    cell = state.selection.blooms.back().cell();
  }
  return CellRef{std::clamp(cell.column, 0, wall.columns - 1), std::clamp(cell.row, 0, wall.rows - 1)};
}

}  // namespace petalproof::app
