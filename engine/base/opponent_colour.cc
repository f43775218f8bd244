#include "engine/base/opponent_colour.h"

#include "engine/base/colour.h"
#include "engine/base/colour_difference.h"
#include "engine/base/lab_curve.h"

#include <glm/matrix.hpp>

namespace petalproof {
namespace {

const glm::dmat3& opponentMatrix() {
  static const glm::dmat3 matrix(glm::dvec3(0.2787336, -0.4487736, 0.0859513),
                                 glm::dvec3(0.7218031, 0.2898056, -0.5899859),
                                 glm::dvec3(-0.1065520, 0.0771569, 0.5011089));
  return matrix;
}

}  // namespace

glm::mat3 relativeXyzFromOpponent() {
  glm::dmat3 matrix = glm::inverse(opponentMatrix());
  for (int column = 0; column < 3; ++column) matrix[column] /= whiteXyz();
  return glm::mat3(matrix);
}

glm::dvec3 opponentFromXyz(const glm::dvec3& xyz) { return opponentMatrix() * xyz; }

glm::dvec3 xyzFromOpponent(const glm::dvec3& opponent) { return glm::inverse(opponentMatrix()) * opponent; }

glm::vec3 opponentFromLinear(const glm::vec3& linear_rgb) {
  static const glm::mat3 matrix(opponentFromXyz(xyzFromLinear({1, 0, 0})),
                                opponentFromXyz(xyzFromLinear({0, 1, 0})),
                                opponentFromXyz(xyzFromLinear({0, 0, 1})));
  return matrix * linear_rgb;
}

glm::vec3 labFromOpponent(const glm::vec3& opponent) {
  static const glm::mat3 relativeFromOpponent = relativeXyzFromOpponent();
  const glm::vec3 relative = relativeFromOpponent * opponent;
  const float x = labCurve(relative.x);
  const float y = labCurve(relative.y);
  const float z = labCurve(relative.z);
  return {116 * y - 16, 500 * (x - y), 200 * (y - z)};
}

}  // namespace petalproof
