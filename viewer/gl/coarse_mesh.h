#pragma once
// Makes coarser triangles of a mesh, for InstancedMeshes to draw blooms that are small in a picture.

#include "engine/scene/mesh.h"

#include <vector>

namespace petalproof::gl {

// Merges the corners within each cube of a grid into the corner that is farthest from the middle, so that the
// outline stays (after J. Rossignac and P. Borrel, Multi-resolution 3D approximations, 1993). Triangles that
// become lines or points are left out, equal triangles are kept once. Returns the mesh's own triangles where
// this doesn't save half of them, `cell_mm` isn't above 0, or the mesh has more than 65,536 cells or
// 2,097,152 corners.
std::vector<scene::Triangle> coarseTriangles(const scene::Mesh& mesh, float cell_mm);

}  // namespace petalproof::gl
