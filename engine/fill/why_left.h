#pragma once
// Why a gap could not be hidden, in words for its maker.

#include "engine/candidates/candidates.h"
#include "engine/candidates/scan.h"
#include "engine/candidates/search_task.h"
#include "engine/fill/fill.h"

#include <optional>
#include <string>
#include <vector>

namespace petalproof::fill {

// A filler that hides the place from the eye and fits beside the chosen ones, if a close look finds one.
std::optional<candidates::Proposal> fillerThatFits(const candidates::SearchTask& task, const glm::dvec3& eye,
                                                   glm::dvec2 at,
                                                   const std::vector<candidates::Candidate>& chosen);

struct WhyLeft {
  std::string words;
  bool by_plates = false;  // smaller base plates, or smaller kinds, might find room
};
// `at`: a place of the gap that stays bare. `chosen`: the fillers that are placed. `wanted`: by kind of
// filler, how many more than the stock would do.
WhyLeft whyLeft(const candidates::SearchTask& task, const glm::dvec3& eye, glm::dvec2 at,
                const std::vector<candidates::Candidate>& chosen, const std::vector<int>& wanted);

// Where gaps stay for want of room and a leaf is taken to stick by a wide disc, because the plan doesn't say.
std::optional<std::string> noteOnLeafPlates(const plan::Plan& plan, const std::vector<LeftGap>& left);

}  // namespace petalproof::fill
