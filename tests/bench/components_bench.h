#pragma once
// How long it takes from a picture's ids to its connected bare places.

#include "engine/camera/camera.h"
#include "engine/scene/scene.h"
#include "engine/visibility/visibility_buffer.h"

namespace petalproof::bench {

// Prints our time and that of OpenCV's connectedComponentsWithStats (which writes a label image, too),
// finding the bare pixels included in both, and the whole of findGaps. Medians of `pairs` calls in turn.
void timeComponents(const visibility::VisibilityBuffer& buffer, const scene::PanelGrid& panels,
                    const camera::Camera& camera, int pairs);

}  // namespace petalproof::bench
