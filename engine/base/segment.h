#pragma once
// Distances and areas in the plane.

#include <glm/geometric.hpp>
#include <glm/vec2.hpp>

#include <algorithm>

namespace petalproof {

// The z of the cross product: twice the signed area of the triangle (0, a, b).
inline double cross(glm::dvec2 a, glm::dvec2 b) { return a.x * b.y - a.y * b.x; }

// From a point to the piece of a line between two others; these may be one.
inline double distanceToSegment(glm::dvec2 point, glm::dvec2 from, glm::dvec2 to) {
  const glm::dvec2 along = to - from;
  const double length2 = glm::dot(along, along);
  const double t = length2 > 0 ? std::clamp(glm::dot(point - from, along) / length2, 0.0, 1.0) : 0.0;
  return glm::distance(point, from + t * along);
}

}  // namespace petalproof
