#pragma once
// Sketches of full blooms: bodies that close towards the middle. Each sketch has petals, folds and relief at
// a radius of about 1, the base at height 0; makeShape brings it to its size. How hands build each shape is
// said beside its function.

#include "engine/scene/internal/shape_counts.h"
#include "engine/scene/internal/sketch.h"

namespace petalproof::scene {

Sketch sketchPeony(const ShapeCounts& counts, const Hand& hand);
Sketch sketchRose(const ShapeCounts& counts, const Hand& hand);
Sketch sketchBud(const ShapeCounts& counts, const Hand& hand);
Sketch sketchPompom(const ShapeCounts& counts, const Hand& hand);
Sketch sketchRosette(const ShapeCounts& counts, const Hand& hand);

}  // namespace petalproof::scene
