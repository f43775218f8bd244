#pragma once
// How much coarser than usual the light on a large wall is found, so that time and memory stay bounded.

#include "engine/scene/scene.h"

namespace petalproof::light {

// 1 for walls of up to 268 m2, blooms that hang over the edge included, with up to 8 m2 of paper on each m2
// of so large a wall; beyond that the lengths of the light's nets, maps and squares grow with this factor, so
// that there are no more of them, and each lamp's map takes no longer. Depends on the scene alone.
double lightScale(const scene::Scene& scene);

}  // namespace petalproof::light
