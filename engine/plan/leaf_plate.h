#pragma once
// The base plate of leaves, leaf sprays and ferns in plans that the program writes: starter plans and first
// plans from tables. Advice on fillers compares plates with it.

#include "engine/plan/plan_defaults.h"

#include <algorithm>
#include <cmath>

namespace petalproof::plan {

// The end of the stalk sticks to the board: an inch, however long the leaf; for a short leaf 0.3 of its
// length, as for a bloom, rounded down to a mark on the tape. Common practice, no source. (A plan without
// `plate` still means 0.3 of the length, which leaves less room for neighbours.) `length` and result in
// `units`.
inline Length leafPlate(Length length, Units units) {
  constexpr UsualLength stalk{1, 2.5, 25};
  const double share = usual_plate_share * length.value;
  const double marked = std::floor(share * tapeMarksPer(units)) / tapeMarksPer(units);
  return {marked > 0 ? std::min(stalk.in(units).value, marked) : share};
}

}  // namespace petalproof::plan
