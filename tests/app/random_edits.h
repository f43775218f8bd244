#pragma once
// What a hand might do to a plan, from a seed: sensible edits and such as have to be refused.

#include "viewer/app/action.h"

#include <cstdint>

namespace petalproof::app {

// The edit number `step` of the sequence `seed`, for the plan as it is then.
PlanEdit randomEdit(const plan::Plan& plan, std::uint64_t seed, std::uint64_t step);

// Of a hand at work: mostly edits, many of them in strokes, now and then a step back or forth.
Action handAction(const State& state, std::uint64_t seed, std::uint64_t step);

}  // namespace petalproof::app
