#pragma once
// Hopeless demands: places of simulated builds that no candidate hides. Counts the builds that have them, and
// looks closely around them for candidates that a scan passes by. HandsCover calls it.

#include "engine/candidates/scan.h"
#include "engine/candidates/search_task.h"
#include "engine/hands/internal/hand_demands.h"

#include <cstdint>
#include <map>
#include <optional>
#include <utility>
#include <vector>

namespace petalproof::hands {

// How many builds have a place, of hopeless demands from number `from` on, that no candidate hides however
// often it is hung.
int buildsWithHopeless(const HandDemands& demands, const std::vector<std::uint32_t>& hopeless,
                       std::uint32_t from);

// A demand where most hopeless demands come together.
std::optional<std::uint32_t> worstHopeless(const HandDemands& demands,
                                           const std::vector<std::uint32_t>& hopeless);

// Tries all sites around demands that break no rule. A scan takes the fillers that would hide most, and may
// pass by the few sites that hide a place beside larger blooms. Looks only a few times at a place.
class CloseLooks {
 public:
  // Candidates for the places where most of the demands come together.
  std::vector<candidates::Proposal> around(const candidates::SearchTask& task, const HandDemands& demands,
                                           const std::vector<std::uint32_t>& looked_at);

 private:
  std::map<std::pair<int, int>, int> times_;  // by block of the board plane
};

}  // namespace petalproof::hands
