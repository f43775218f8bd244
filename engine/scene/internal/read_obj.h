#pragma once
// Reads a maker's own mesh from an OBJ file and fits it to its bloom's size; prepareKinds calls this.

#include "engine/base/problem.h"
#include "engine/scene/mesh.h"

#include <cstddef>
#include <string>
#include <string_view>

namespace petalproof::scene {

// Larger files are refused, so that time and memory stay bounded.
struct ObjLimits {
  std::size_t triangles = 1'000'000;
  std::size_t bytes = std::size_t{256} << 20;
};

// A Wavefront OBJ file's faces as triangles, in the file's own units and axes. n-gons are
// triangulated. Refused, with the reason: no faces, a vertex that isn't finite, an index out of range,
// no extent, too many triangles.
Result<Mesh> readObj(std::string_view text, const std::string& file, const ObjLimits& limits = {});

// Moves and scales a mesh: the farthest point from the z axis is diameter / 2, the lowest z is 0, the
// highest is depth. A flat mesh (no extent along z) lies at z = depth. The z axis is kept.
// Precondition: readObj accepted the mesh.
Mesh fittedTo(const Mesh& mesh, double diameter_mm, double depth_mm);

}  // namespace petalproof::scene
