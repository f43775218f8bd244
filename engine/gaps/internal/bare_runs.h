#pragma once
// Finds the bare pixels of a picture as runs, each with its owner as its label: the first step of findGaps.

#include "engine/gaps/gaps.h"

#include <vector>

namespace petalproof::gaps {

// The bare pixels of a picture as runs labelled with their owner (labelOf), from the top, then from the
// left, equal neighbours merged.
std::vector<Run> bareRuns(const visibility::VisibilityBuffer& buffer, const scene::PanelGrid& panels,
                          const camera::Camera& camera, const Pool& pool);
// The same for a mask of bare pixels, on one thread.
std::vector<Run> bareRuns(const visibility::PixelMask& bare, const scene::PanelGrid& panels,
                          const camera::Camera& camera);

}  // namespace petalproof::gaps
