#pragma once
// What a picture would show bare of a wall without its blooms.

#include "engine/camera/camera.h"
#include "engine/scene/scene.h"
#include "engine/visibility/pixel_mask.h"

namespace petalproof {

// The pixels that would be bare (engine/gaps/gaps.h: isBare) if there were no bloom.
PixelMask bareBoardMask(const PanelGrid& panels, const Camera& camera);

}  // namespace petalproof
