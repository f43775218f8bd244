#pragma once
// How many fillers any placement needs.

#include "engine/candidates/must_hide.h"
#include "engine/candidates/search_task.h"

#include <cstdint>
#include <functional>

namespace petalproof::fill {

// No placement does with fewer, whatever the places and turns: places are weighed so that what one filler can
// hide, wherever it sits and however it is turned, never weighs more than 1, and as many fillers are needed
// as all places weigh. (The dual of the fractional cover; V. Chvatal, "Linear Programming", 1983, chapter 5.)
// All positions and turns fall into bins, the finer the more they matter (footprint.h), without those in
// which no base plate fits. `counts`: which places to use; empty: all. 0 where there is nothing to hide.
int fewestFillers(const candidates::MustHide& all, const candidates::SearchTask& task,
                  const std::function<bool(std::uint32_t eye, glm::dvec2 place)>& counts = {});

}  // namespace petalproof::fill
