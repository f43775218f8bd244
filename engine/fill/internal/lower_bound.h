#pragma once
// Computes a number of fillers that every placement needs at least. The filling reports it as `at_least`.

#include "engine/candidates/must_hide.h"
#include "engine/candidates/search_task.h"

#include <cstdint>
#include <functional>
#include <optional>

namespace petalproof::fill {

// Tells how near to a place, in mm on the board plane, a filler must hide a point to count as hiding the
// place from the eye; nothing where the bound doesn't count the place.
using HowNear = std::function<std::optional<double>(std::uint32_t eye, glm::dvec2 place)>;

// No fewer fillers hide all places that count, wherever they lie flat on the board and however they are
// turned: places get weights such that the places that a filler can hide never weigh more than 1
// together, so at least as many fillers are needed as all places weigh. All positions and turns fall into
// bins, the finer the more they matter (footprint.h), without those in which no base plate fits; other rules
// for fillers and the stock are left out, so with them it may take more. `howNear` empty: every place counts,
// and must be hidden itself. 0 where no place counts.
int fewestFillers(const candidates::MustHide& all, const candidates::SearchTask& task,
                  const HowNear& howNear = {});

}  // namespace petalproof::fill
