#pragma once
// Which of its kind's colours each filler takes.

#include "engine/filler/internal/candidates.h"

#include <vector>

namespace petalproof {

// For each filler, in their order. Closest to the blooms around it, but not the twin of a larger bloom beside
// it, nor the third of one colour within 300 mm, if another will do. Those that hang already count.
std::vector<Colour> fillerColours(const std::vector<Candidate>& fillers, const Plan& plan, const Scene& scene,
                                  const FillerMaker& maker);

}  // namespace petalproof
