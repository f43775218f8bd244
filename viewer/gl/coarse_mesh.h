#pragma once
// Fewer triangles for what is small in a picture.

#include "engine/scene/mesh.h"

#include <vector>

namespace petalproof::gl {

// The mesh's triangles with all corners of a cell of a grid of cubes moved to the one of them that is
// farthest out from the middle, so that the outline stays (after Rossignac and Borrel, Multi-resolution 3D
// approximations, 1993); those that become lines or points are left out, those that become the same are there
// once. The mesh's own where that doesn't save half of them, `cell_mm` isn't above 0, or the mesh has more
// cells than 65,536 or 2,097,152 corners.
std::vector<scene::Triangle> coarseTriangles(const scene::Mesh& mesh, float cell_mm);

}  // namespace petalproof::gl
