#pragma once
// Finds out why a gap could not be hidden, and says it in words for the wall's maker. leftWithReasons and the
// hands' step call it for gaps that stay.

#include "engine/candidates/candidates.h"
#include "engine/candidates/scan.h"
#include "engine/candidates/search_task.h"
#include "engine/fill/fill.h"

#include <optional>
#include <string>
#include <vector>

namespace petalproof::fill {

// A filler that hides the place from the eye and fits beside the chosen fillers, if a close look finds any.
std::optional<candidates::Proposal> fillerThatFits(const candidates::SearchTask& task, const glm::dvec3& eye,
                                                   glm::dvec2 at,
                                                   const std::vector<candidates::Candidate>& chosen);

struct WhyLeft {
  std::string words;
  bool by_plates = false;  // smaller base plates, or smaller kinds, might find room
};
// `at`: a place of the gap that stays bare. `chosen`: the placed fillers. `wanted`: for each kind of filler,
// how many more than the stock would hide what is left.
WhyLeft whyLeft(const candidates::SearchTask& task, const glm::dvec3& eye, glm::dvec2 at,
                const std::vector<candidates::Candidate>& chosen, const std::vector<int>& wanted);

// A note for plans where gaps stay because base plates find no room, while a leaf's plate isn't given and is
// taken to be a wide disc.
std::optional<std::string> noteOnLeafPlates(const plan::Plan& plan, const std::vector<LeftGap>& left);

}  // namespace petalproof::fill
