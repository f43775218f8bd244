#pragma once
// Makes masks of bare pixels: those of a shot, and those of the wall without blooms. Checks of builds and
// fillings call it.

#include "engine/camera/camera.h"
#include "engine/scene/scene.h"
#include "engine/visibility/pixel_mask.h"
#include "engine/visibility/visibility_buffer.h"

namespace petalproof::gaps {

// The pixels that are bare (engine/gaps/gaps.h: isBare). Within Workers::run side by side.
visibility::PixelMask bareMask(const visibility::VisibilityBuffer& seen, const scene::PanelGrid& panels);

// The pixels that would be bare (engine/gaps/gaps.h: isBare) if there were no bloom.
visibility::PixelMask bareBoardMask(const scene::PanelGrid& panels, const camera::Camera& camera);

}  // namespace petalproof::gaps
