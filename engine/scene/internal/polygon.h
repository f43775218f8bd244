#pragma once
// Cuts a polygon into triangles; the reader of OBJ files calls this for each face.

#include "engine/scene/mesh.h"

#include <glm/vec3.hpp>

#include <span>
#include <vector>

namespace petalproof::scene {

// Corner numbers of count - 2 triangles, wound as the polygon. The polygon may be concave and a little bent;
// ears are clipped in the view along its mean normal (Newell's). A polygon that crosses itself gets an
// arbitrary triangulation. Fewer than three corners: none.
std::vector<Triangle> trianglesOfPolygon(std::span<const glm::dvec3> corners);

}  // namespace petalproof::scene
