#pragma once
// Sketches of open blooms: rings of petals that leave notches. Each sketch has petals, folds and relief at a
// radius of about 1, the base at height 0; makeShape brings it to its size. How hands build each shape is
// said beside its function.

#include "engine/scene/internal/shape_counts.h"
#include "engine/scene/internal/sketch.h"

namespace petalproof::scene {

Sketch sketchDahlia(const ShapeCounts& counts, const Hand& hand);
Sketch sketchConeDahlia(const ShapeCounts& counts, const Hand& hand);
Sketch sketchPetalBloom(const ShapeCounts& counts, const Hand& hand);
Sketch sketchDaisy(const ShapeCounts& counts, const Hand& hand);

}  // namespace petalproof::scene
