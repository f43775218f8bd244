#pragma once
// Why a gap could not be hidden, in words for its maker.

#include "engine/filler/internal/candidates.h"
#include "engine/filler/internal/scan.h"
#include "engine/filler/internal/search_task.h"

#include <optional>
#include <string>

namespace petalproof {

// A filler that hides the place from the eye and fits beside the chosen ones, if a close look finds one.
std::optional<Proposal> fillerThatFits(const SearchTask& task, const glm::dvec3& eye, glm::dvec2 at,
                                       const std::vector<Candidate>& chosen);

// `at`: a place of the gap that stays bare. `chosen`: the fillers that are placed. `wanted`: by kind of
// filler, how many more than the stock would do.
std::string whyLeft(const SearchTask& task, const glm::dvec3& eye, glm::dvec2 at,
                    const std::vector<Candidate>& chosen, const std::vector<int>& wanted);

}  // namespace petalproof
