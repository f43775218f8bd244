#include "engine/scene/internal/arrange_coverage.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace petalproof {

Coverage::Coverage(const WallModel& wall) : wall_(wall), layers_(wall.board.columns(), wall.board.rows(), 0) {
  for (const std::uint8_t board : wall.board.cells()) board_cells_ += board;
}

int Coverage::add(int layout, const ArrangeKind& kind, const Spot& spot) {
  return stamp<1>(layout, kind, spot);
}

int Coverage::remove(int layout, const ArrangeKind& kind, const Spot& spot) {
  return stamp<-1>(layout, kind, spot);
}

int Coverage::bareCells() const {
  int bare = 0;
  for (std::size_t k = 0; k < layers_.cells().size(); ++k)
    bare += layers_.cells()[k] == 0 ? wall_.board.cells()[k] : 0;
  return bare;
}

template <int step>
int Coverage::stamp(int layout, const ArrangeKind& kind, const Spot& spot) {
  const auto per_cell = static_cast<float>(1.0 / wall_.cell_mm);
  int changed = 0;
  for (const Site& site : wall_.sites[static_cast<std::size_t>(layout)]) {
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
      const std::uint8_t* board = &wall_.board.at(first, y);
      int bare = 0;
      for (int k = 0; k < end - first; ++k) {
        if constexpr (step < 0) --layers[k];
        bare += layers[k] == 0 ? board[k] : 0;
        if constexpr (step > 0) ++layers[k];
      }
      changed += bare;
    }
  }
  return changed;
}

}  // namespace petalproof
