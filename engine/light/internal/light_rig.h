#pragma once
// The light that pictures are shaded with: a broad soft light from the upper left in front of the wall and
// an even one from all of the front half-space, both as a number of distant lamps.

#include <glm/vec3.hpp>

#include <vector>

namespace petalproof::light {

struct Lamp {
  glm::vec3 towards;  // unit, wall frame, from the wall to the lamp
  glm::vec3 power;    // irradiance on a surface that faces it
  int map_px;         // the longer side of its shadow map: finer for the lamps whose shadows stand out
};

// How matt paper takes a lamp at the cosine `c` of its angle: a little light wraps around the edge, and a
// little comes through from the other side.
struct PaperResponse {
  float reflected = 0;
  float passed = 0;
};
inline PaperResponse paperResponse(float c) {
  constexpr float wrap = 0.18F;
  constexpr float passing = 0.3F;
  return {c > -wrap ? (c + wrap) / (1 + wrap) : 0.0F, c < 0 ? -c * passing : 0.0F};
}

// A flat board that nothing hides from any lamp reflects exactly (1, 1, 1) in sum.
std::vector<Lamp> frontLight();

}  // namespace petalproof::light
