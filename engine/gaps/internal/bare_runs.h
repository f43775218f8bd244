#pragma once
#include "engine/gaps/gaps.h"

#include <vector>

namespace petalproof {

// The bare pixels of a picture as runs labelled with their owner (labelOf), from the top, then from the
// left, equal neighbours merged. Runs in the task arena of its caller.
std::vector<Run> bareRuns(const VisibilityBuffer& buffer, const PanelGrid& panels, const Camera& camera);
// The same of a mask of bare pixels, on one thread.
std::vector<Run> bareRuns(const PixelMask& bare, const PanelGrid& panels, const Camera& camera);

}  // namespace petalproof
