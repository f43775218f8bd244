#pragma once
// Opponent colours, the space in which the reading of pictures blurs as the eye does: X. Zhang, B. A.
// Wandell, "A spatial extension of CIELAB for digital color image reproduction", SID Symposium Digest 27,
// 1996.

#include <glm/mat3x3.hpp>
#include <glm/vec3.hpp>

namespace petalproof {

// Light-dark, red-green, blue-yellow. The matrix of the authors' program; copies of the paper print the
// third number of the second row with the wrong sign.
glm::dvec3 opponentFromXyz(const glm::dvec3& xyz);
glm::dvec3 xyzFromOpponent(const glm::dvec3& opponent);
// The conversions that pictures need, in single precision.
glm::vec3 opponentFromLinear(const glm::vec3& linear_rgb);
glm::vec3 labFromOpponent(const glm::vec3& opponent);
glm::mat3 relativeXyzFromOpponent();  // XYZ as shares of white's

}  // namespace petalproof
