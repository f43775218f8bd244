#pragma once
// What a plan that leaves a key out means by it, where that depends on the plan's unit; the other
// defaults stand beside their fields in plan.h.

#include "engine/plan/plan.h"

namespace petalproof {

inline Length fromInches(double inches, Units units) {
  return {units == Units::inch ? inches : inches * 25.4 / millimetresPer(units)};
}

// Nothing in it but the defaults: seam 1/16 in, on the floor, board 3/16 in thick.
inline Wall defaultWall(Units units) {
  Wall wall;
  wall.seam = fromInches(1.0 / 16, units);
  wall.board.thickness = fromInches(3.0 / 16, units);
  return wall;
}

// What a [hands] section that leaves keys out means by them; value from experience, no source.
inline Hands defaultHands(Units units) {
  Hands hands;
  hands.bloom_size = 0.04;
  hands.bloom_depth = 0.15;
  hands.place = fromInches(0.5, units);
  hands.turn_deg = 15;
  hands.hang = fromInches(0.15, units);
  hands.step = fromInches(0.12, units);
  return hands;
}

}  // namespace petalproof
