#pragma once
// What matt surfaces make of the light that arrives at them.

#include "engine/light/internal/sky.h"
#include "engine/light/internal/wall_light.h"

#include <glm/exponential.hpp>
#include <glm/vec3.hpp>

namespace petalproof::light {

// Of the light that neighbours keep away they give back about this share, in their own colour; blooms stand
// among blooms of their kind and board under board, so that is taken to be the surface's own.
constexpr float given_back = 0.55F;
// Of the light on the other side of paper this share comes through, twice coloured.
constexpr float comes_through = 0.3F;

// Linear light that a surface of linear colour `colour` sends out.
inline glm::vec3 boardInLight(const glm::vec3& colour, const Arriving& light) {
  return colour * lightOf(light.dome, light.key) +
         colour * colour * (given_back * lightOf(light.dome_hidden, light.key_hidden));
}

inline glm::vec3 paperInLight(const glm::vec3& colour, const Arriving& light) {
  return boardInLight(colour, light) +
         colour * glm::sqrt(colour) * (comes_through * lightOf(light.dome_passed, light.key_passed));
}

}  // namespace petalproof::light
