#pragma once
// What a picture shows bare, pixel by pixel.

#include "engine/camera/camera.h"
#include "engine/scene/scene.h"
#include "engine/visibility/pixel_mask.h"
#include "engine/visibility/visibility_buffer.h"

namespace petalproof {

// The pixels that are bare (engine/gaps/gaps.h: isBare). Within Workers::run side by side.
PixelMask bareMask(const VisibilityBuffer& seen, const PanelGrid& panels);

// The pixels that would be bare (engine/gaps/gaps.h: isBare) if there were no bloom.
PixelMask bareBoardMask(const PanelGrid& panels, const Camera& camera);

}  // namespace petalproof
