#pragma once
// One function a shape: its petals, folds and relief at a radius of about 1, the base at height 0.
// How each is built by hand is said beside its function.

#include "engine/scene/internal/sketch.h"

namespace petalproof::scene {

struct ShapeCounts {
  int petals = 0;
  int layers = 0;
};

// The same petals in every ring.
inline std::vector<int> ringsOf(const ShapeCounts& counts) {
  return std::vector<int>(static_cast<std::size_t>(counts.layers), counts.petals);
}

Sketch sketchDahlia(const ShapeCounts& counts, const Hand& hand);
Sketch sketchConeDahlia(const ShapeCounts& counts, const Hand& hand);
Sketch sketchPetalBloom(const ShapeCounts& counts, const Hand& hand);
Sketch sketchDaisy(const ShapeCounts& counts, const Hand& hand);
Sketch sketchPeony(const ShapeCounts& counts, const Hand& hand);
Sketch sketchRose(const ShapeCounts& counts, const Hand& hand);
Sketch sketchBud(const ShapeCounts& counts, const Hand& hand);
Sketch sketchPompom(const ShapeCounts& counts, const Hand& hand);
Sketch sketchRosette(const ShapeCounts& counts, const Hand& hand);
Sketch sketchLeaf(const ShapeCounts& counts, const Hand& hand);
Sketch sketchLeafSpray(const ShapeCounts& counts, const Hand& hand);
Sketch sketchFern(const ShapeCounts& counts, const Hand& hand);

}  // namespace petalproof::scene
