#pragma once
// Makes masks of bare pixels: those of a shot, and those of the wall without blooms. Checks of builds and
// fillings call it.

#include "engine/base/pool.h"
#include "engine/camera/camera.h"
#include "engine/scene/scene.h"
#include "engine/visibility/pixel_mask.h"
#include "engine/visibility/visibility_buffer.h"

namespace petalproof::gaps {

// The pixels that are bare (engine/gaps/gaps.h: isBare).
visibility::PixelMask bareMask(const visibility::VisibilityBuffer& seen, const scene::PanelGrid& panels,
                               const Pool& pool);

// The pixels that would be bare (engine/gaps/gaps.h: isBare) if there were no bloom; on one thread.
visibility::PixelMask bareBoardMask(const scene::PanelGrid& panels, const camera::Camera& camera);

}  // namespace petalproof::gaps
