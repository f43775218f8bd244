#include "engine/arrange/internal/arrange_coverage.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace petalproof::arrange {
namespace {

// Adds `step` to each cell; returns the cells that were, or became, bare. 16 bits throughout let the compiler
// take many cells at once.
template <int step>
int stampRun(std::uint16_t* layers, int cells) {
  std::uint16_t bare = 0;
  for (int k = 0; k < cells; ++k) {
    const auto before = layers[k];
    const auto after = static_cast<std::uint16_t>(before + step);
    bare = static_cast<std::uint16_t>(bare + ((step > 0 ? before : after) == 0 ? 1 : 0));
    layers[k] = after;
  }
  return bare;
}

}  // namespace

Coverage::Coverage(const WallModel& wall) : wall_(wall), layers_(wall.board.columns(), wall.board.rows(), 1) {
  for (std::size_t k = 0; k < wall.board.cells().size(); ++k) {
    if (!wall.board.cells()[k]) continue;
    layers_.cells()[k] = 0;
    ++board_cells_;
  }
}

int Coverage::add(int layout, const ArrangeKind& kind, const ArrangeSpot& spot) {
  return stamp<1>(layout, kind, spot);
}

int Coverage::remove(int layout, const ArrangeKind& kind, const ArrangeSpot& spot) {
  return stamp<-1>(layout, kind, spot);
}

int Coverage::bareCells() const {
  return static_cast<int>(std::count(layers_.cells().begin(), layers_.cells().end(), 0));
}

template <int step>
int Coverage::stamp(int layout, const ArrangeKind& kind, const ArrangeSpot& spot) {
  const auto per_cell = static_cast<float>(1.0 / wall_.cell_mm);
  int changed = 0;
  for (const CellSite& site : wall_.sites[static_cast<std::size_t>(layout)]) {
    const float sign = site.upside_down ? -1.0F : 1.0F;
    const int cx = static_cast<int>(std::floor(site.centre_x + sign * spot.x * per_cell));
    const int cy = static_cast<int>(std::floor(site.centre_y + sign * spot.y * per_cell));
    const int turn = (spot.turn + (site.upside_down ? turn_steps / 2 : 0)) % turn_steps;
    for (const FootprintRun& run : kind.turns[static_cast<std::size_t>(turn)].runs) {
      const int y = cy + run.row;
      const int first = std::max(cx + run.first, site.first_x);
      const int end = std::min(cx + run.last + 1, site.last_x);
      if (y < site.first_y || y >= site.last_y || first >= end) continue;
      std::uint16_t* layers = &layers_.at(first, y);
      changed += stampRun<step>(layers, end - first);
    }
  }
  return changed;
}

}  // namespace petalproof::arrange
