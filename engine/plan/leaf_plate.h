#pragma once
// What of a leaf sticks to the board.

#include "engine/plan/plan.h"

#include <algorithm>
#include <cmath>

namespace petalproof {

// The base plate that plans written by the program give a leaf, leaf spray or fern: the end of its stalk, an
// inch of it however long it is; of a short one 0.3 of its length, as of a bloom, to a mark on the tape.
// Common practice, no source. A plan that says nothing means 0.3 of the length all the same, which lets few
// stand side by side. `length` and result in `units`.
inline Length leafPlate(Length length, Units units) {
  const double stalk = units == Units::inch ? 1 : units == Units::centimetre ? 2.5 : 25;
  const double marks = units == Units::inch ? 8 : units == Units::centimetre ? 10 : 1;  // of a unit
  const double share = std::floor(0.3 * length.value * marks) / marks;
  return {share > 0 ? std::min(stalk, share) : 0.3 * length.value};
}

}  // namespace petalproof
