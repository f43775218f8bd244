#pragma once
// Light on the wall: soft front light with shadows, on paper and board.

#include "engine/light/internal/light_rig.h"
#include "engine/light/shadow_maps.h"
#include "engine/light/surfaces.h"

#include <vector>

namespace petalproof::light {

// What arrives at a point, for a surface of its normal; (1, 1, 1) reflected is a flat board in the open.
struct Irradiance {
  glm::vec3 reflected{0};
  glm::vec3 passed{0};  // through paper, from its other side
  glm::vec3 hidden{0};  // what neighbours keep away
};

struct LitPlace {
  glm::vec3 point{0};
  glm::vec3 normal{0};
};

class Shading {
 public:
  // Refers to `shadows`, which must outlive it.
  Shading(std::vector<Lamp> lamps, const ShadowMaps& shadows) : lamps_(std::move(lamps)), shadows_(shadows) {}

  // Many places at a time, lamp by lamp: neighbours then read neighbouring pixels of a shadow map.
  void arriving(const std::vector<LitPlace>& places, std::vector<Irradiance>& light) const;

 private:
  std::vector<Lamp> lamps_;
  const ShadowMaps& shadows_;
};

// Linear light that the surface sends out. What neighbours keep away they partly give back in their own
// colour; blooms stand among blooms of their kind, so that is taken to be the surface's own.
glm::vec3 reflectedBy(const SurfacePoint& surface, const Irradiance& light);

}  // namespace petalproof::light
