#pragma once
// Cutting a polygon into triangles.

#include "engine/scene/mesh.h"

#include <glm/vec3.hpp>

#include <span>
#include <vector>

namespace petalproof::scene {

// Corner numbers of count - 2 triangles, wound as the polygon. The polygon may be concave and a little
// bent; it is cut up as seen along its mean normal (Newell's), by clipping ears. One that crosses itself
// gets some triangulation. Fewer than three corners: none.
std::vector<Triangle> trianglesOfPolygon(std::span<const glm::dvec3> corners);

}  // namespace petalproof::scene
