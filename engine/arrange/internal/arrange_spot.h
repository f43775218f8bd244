#pragma once

namespace petalproof::arrange {

// Where a bloom sits on its panel: mm from the panel's middle, x right, y down; turn in steps
// (arrange_kinds.h).
struct ArrangeSpot {
  float x = 0;
  float y = 0;
  int turn = 0;
};

}  // namespace petalproof::arrange
