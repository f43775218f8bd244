#pragma once
// The light of pictures, as lamps that are infinitely far away: an even sky over the front half-space and
// a broad soft lamp at the upper left.

#include <glm/vec3.hpp>

#include <vector>

namespace petalproof::light {

struct SkyLamp {
  glm::vec3 towards{0};  // unit, wall frame, from the wall to the lamp; z > 0
  float dome = 0;        // irradiance of a surface that faces it, of the sky's part
  float key = 0;         // likewise of the broad lamp's
};

// A flat board that nothing hides gets dome 1 and key 1 in sum.
std::vector<SkyLamp> skyLamps();
// The same light from a few lamps only.
std::vector<SkyLamp> fewSkyLamps();
// Those of the sky alone.
std::vector<SkyLamp> domeLamps();

// What dome and key of 1 give in sum: white.
glm::vec3 lightOf(float dome, float key);

}  // namespace petalproof::light
