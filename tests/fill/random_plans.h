#pragma once
// Small walls that nobody planned, with blooms that overlap, gaps between them, and what may fill those.

#include "engine/plan/read_plan.h"

#include <cstdint>

namespace petalproof::testing {

// One to six panels of 220 to 320 mm, some cells empty, some panels upside down, some boards covered; eight
// to fourteen blooms on each, of 60 to 350 mm; fillers round and green, some of few in stock; one or two
// shots of half a megapixel. The same for a seed.
plan::LoadedPlan randomPlan(std::uint64_t seed);
// Of one or two panels, with any number of fillers of each kind.
plan::LoadedPlan smallRandomPlan(std::uint64_t seed);

}  // namespace petalproof::testing
