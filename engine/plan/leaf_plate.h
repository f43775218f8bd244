#pragma once
// What of a leaf sticks to the board.

#include "engine/plan/plan_defaults.h"

#include <algorithm>
#include <cmath>

namespace petalproof::plan {

// The base plate that plans written by the program give a leaf, leaf spray or fern: the end of its stalk, an
// inch of it however long it is; of a short one 0.3 of its length, as of a bloom, to a mark on the tape.
// Common practice, no source. A plan that says nothing means 0.3 of the length all the same, which lets few
// stand side by side. `length` and result in `units`.
inline Length leafPlate(Length length, Units units) {
  constexpr UsualLength stalk{1, 2.5, 25};
  const double share = usual_plate_share * length.value;
  const double marked = std::floor(share * tapeMarksPer(units)) / tapeMarksPer(units);
  return {marked > 0 ? std::min(stalk.in(units).value, marked) : share};
}

}  // namespace petalproof::plan
