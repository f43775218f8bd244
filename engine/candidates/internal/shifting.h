#pragma once
// Moves several fillers until together they hide given places. fewer.cc calls it with neighbouring fillers
// and the places that only they hide.

#include "engine/candidates/scan.h"
#include "engine/scene/filler_maker.h"

#include <glm/vec2.hpp>

#include <optional>
#include <span>
#include <vector>

namespace petalproof::candidates {

// Moves fillers, and turns leaves, until together they hide the places, by outline alone: each takes the
// places that it comes nearest to hiding and moves to their middle, again and again (after S. P. Lloyd,
// "Least squares quantization in PCM", IEEE Transactions on Information Theory 28, 1982, for the farthest
// place instead of the mean). `room_mm`: by how much each filler is taken to be smaller than it is. None
// where it doesn't succeed.
std::optional<std::vector<Proposal>> shiftedTogether(const scene::FillerMaker& maker,
                                                     std::vector<Proposal> fillers,
                                                     std::span<const glm::dvec2> places, double room_mm);

}  // namespace petalproof::candidates
