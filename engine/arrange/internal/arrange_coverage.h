#pragma once
// Counts the wall's bare board and keeps the count up to date while the search moves blooms.

#include "engine/arrange/internal/arrange_kinds.h"
#include "engine/arrange/internal/arrange_spot.h"
#include "engine/arrange/internal/arrange_wall.h"

#include <cstdint>
#include <vector>

namespace petalproof::arrange {

class Coverage {
 public:
  explicit Coverage(const WallModel& wall);

  // Puts the bloom on every panel of the layout, or takes it off; returns the number of raster cells of board
  // that it newly covered, or left bare.
  int add(int layout, const ArrangeKind& kind, const ArrangeSpot& spot);
  int remove(int layout, const ArrangeKind& kind, const ArrangeSpot& spot);

  int bareCells() const;
  int boardCells() const { return board_cells_; }

 private:
  template <int step>
  int stamp(int layout, const ArrangeKind& kind, const ArrangeSpot& spot);

  const WallModel& wall_;
  Grid<std::uint16_t> layers_;  // blooms on a cell; cells without counted board start at 1
  int board_cells_ = 0;
};

}  // namespace petalproof::arrange
