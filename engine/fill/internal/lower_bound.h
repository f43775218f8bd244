#pragma once
// How many fillers any placement needs.

#include "engine/candidates/must_hide.h"
#include "engine/candidates/search_task.h"

#include <cstdint>
#include <functional>
#include <optional>

namespace petalproof::fill {

// Says of a place that must be hidden from an eye whether the bound counts it, and how near a filler has to
// hide something to count as hiding it, in mm on the board plane; nothing: not counted.
using HowNear = std::function<std::optional<double>(std::uint32_t eye, glm::dvec2 place)>;

// No fewer fillers hide all places that count, wherever they lie flat on the board and however they are
// turned: places are weighed so that what one filler can hide never weighs more than 1, and as many fillers
// are needed as all places weigh. All positions and turns fall into bins, the finer the more they matter
// (footprint.h), without those in which no base plate fits; other rules for fillers and the stock are left
// out, so with them it may take more. `howNear` empty: all count, to the point. 0 where nothing counts.
int fewestFillers(const candidates::MustHide& all, const candidates::SearchTask& task,
                  const HowNear& howNear = {});

}  // namespace petalproof::fill
