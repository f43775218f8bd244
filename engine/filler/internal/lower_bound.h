#pragma once
// How many fillers any placement needs.

#include "engine/filler/internal/must_hide.h"
#include "engine/scene/filler_maker.h"

#include <cstdint>
#include <functional>

namespace petalproof {

// A number of places no two of which one filler can hide, wherever it sits and however it is turned: each
// needs a filler of its own. A filler hides a place of an eye only if its axis is within `reach` of it: half
// the diameter, and what the slanting ray adds up to the filler's full depth. `counts`: which places to use;
// empty: all. 0 where there is nothing to hide.
int fewestFillers(const MustHide& all, const FillerMaker& maker, const PlaceGrid& grid, std::uint64_t seed,
                  const std::function<bool(std::uint32_t eye, glm::dvec2 place)>& counts = {});

// The largest of all kinds; infinite where a kind reaches as far out as the eye.
double reachOf(const FillerMaker& maker, const glm::dvec3& eye, glm::dvec2 place);

}  // namespace petalproof
