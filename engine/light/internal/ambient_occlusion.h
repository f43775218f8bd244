#pragma once
// How open to light a place on the wall is.

#include "engine/base/pool.h"
#include "engine/scene/scene.h"

#include <glm/vec3.hpp>

#include <span>
#include <vector>

namespace petalproof::light {

struct SurfacePlace {
  glm::vec3 point{0};   // wall frame, mm, on a bloom or on the boards' front
  glm::vec3 normal{0};  // unit
};

// AO(p, n) = 1 / pi * integral over the hemisphere about n of V(p, d) * dot(n, d) over directions d, with
// V = 1 where a ray from p along d meets no bloom and no board. One value a place, 0 to 1; the same for any
// pool.
std::vector<float> ambientOcclusion(const scene::Scene& scene, std::span<const SurfacePlace> places,
                                    const Pool& pool);

}  // namespace petalproof::light
