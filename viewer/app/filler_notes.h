#pragma once
// Answers questions of the fillers page and of the pictures of the wall about placed fillers: why a filler
// hangs where it does, which gaps it hides, and how many fillers to cut.

#include "viewer/app/state.h"

#include <optional>
#include <string>
#include <vector>

namespace petalproof::app {

// The gap that a check calls "couple.6"; nothing unless that shot is fully checked for the plan as it is now.
std::optional<GapRef> gapOfId(const State& state, const std::string& id);
// The number of such ids of each shot: "4 in couple, 2 in phone".
std::string countsByShot(const std::vector<std::string>& ids);
// The last search's reason for the filler; nullptr where the search didn't place it there.
const FillerNote* noteOf(const State& state, const plan::Filler& filler);
// True for a filler (an index into Plan::fillers) that was just placed.
bool glows(const State& state, int filler);
// The number of fillers of each kind and colour on the wall, in the order of their kinds; `spare` comes from
// the last search.
std::vector<fill::FillerTotal> fillersToCut(const State& state);

}  // namespace petalproof::app
