#pragma once
// How much board of the wall is bare, kept up to date while blooms move.

#include "engine/arrange/internal/arrange_kinds.h"
#include "engine/arrange/internal/arrange_spot.h"
#include "engine/arrange/internal/arrange_wall.h"

#include <cstdint>
#include <vector>

namespace petalproof::arrange {

class Coverage {
 public:
  explicit Coverage(const WallModel& wall);

  // Puts the bloom on every panel of the layout, or takes it off them; returns how many raster cells of
  // board it covered that were bare (or left bare).
  int add(int layout, const ArrangeKind& kind, const ArrangeSpot& spot);
  int remove(int layout, const ArrangeKind& kind, const ArrangeSpot& spot);

  int bareCells() const;
  int boardCells() const { return board_cells_; }

 private:
  template <int step>
  int stamp(int layout, const ArrangeKind& kind, const ArrangeSpot& spot);

  const WallModel& wall_;
  Grid<std::uint16_t> layers_;  // of paper on a cell, one more where no board counts
  int board_cells_ = 0;
};

}  // namespace petalproof::arrange
