#pragma once
// Why a gap could not be hidden, in words for its maker.

#include "engine/filler/internal/candidates.h"
#include "engine/filler/internal/search_task.h"

#include <string>

namespace petalproof {

// `at`: a place of the gap that stays bare. `chosen`: the fillers that are placed.
std::string whyLeft(const SearchTask& task, const glm::dvec3& eye, glm::dvec2 at,
                    const std::vector<Candidate>& chosen);

}  // namespace petalproof
