#pragma once
// Sketches of greenery, along y with the tip at +y. Each sketch has petals, folds and relief at a radius of
// about 1, the base at height 0; makeShape brings it to its size. How hands build each shape is said beside
// its function.

#include "engine/scene/internal/shape_counts.h"
#include "engine/scene/internal/sketch.h"

namespace petalproof::scene {

Sketch sketchLeaf(const ShapeCounts& counts, const Hand& hand);
Sketch sketchLeafSpray(const ShapeCounts& counts, const Hand& hand);
Sketch sketchFern(const ShapeCounts& counts, const Hand& hand);

}  // namespace petalproof::scene
