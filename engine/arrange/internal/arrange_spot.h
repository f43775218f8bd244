#pragma once
// A bloom's place and turn during the search for places.

namespace petalproof::arrange {

// In mm from the panel's middle, x right, y down; turn in steps (turn_steps in arrange_kinds.h).
struct ArrangeSpot {
  float x = 0;
  float y = 0;
  int turn = 0;
};

}  // namespace petalproof::arrange
