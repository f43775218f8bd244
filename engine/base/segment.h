#pragma once
// Plane geometry for outlines: cross products and distances to segments.

#include <glm/geometric.hpp>
#include <glm/vec2.hpp>

#include <algorithm>

namespace petalproof {

// The z of the cross product: twice the signed area of the triangle (0, a, b).
inline double cross(glm::dvec2 a, glm::dvec2 b) { return a.x * b.y - a.y * b.x; }

// The distance from a point to the segment between `from` and `to`, which may coincide.
inline double distanceToSegment(glm::dvec2 point, glm::dvec2 from, glm::dvec2 to) {
  const glm::dvec2 along = to - from;
  const double length2 = glm::dot(along, along);
  const double t = length2 > 0 ? std::clamp(glm::dot(point - from, along) / length2, 0.0, 1.0) : 0.0;
  return glm::distance(point, from + t * along);
}

}  // namespace petalproof
