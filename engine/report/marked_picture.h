#pragma once
// Pictures with the gaps marked: each shot, and one map of the whole wall.

#include "engine/base/image.h"
#include "engine/check/check.h"

namespace petalproof {

// The shot, shaded, every gap outlined and numbered as in the table, with a margin that names shot,
// lens, distance and count.
Image markedPicture(const ShotCheck& shot, const LoadedPlan& loaded, const Scene& scene, int threads = 0);

// The wall head-on with all places that any shot sees bare and the panels' names.
Image wallMap(const Check& check, const LoadedPlan& loaded, const Scene& scene, int threads = 0);

}  // namespace petalproof
