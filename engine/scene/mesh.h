#pragma once
// Triangles in the mesh frame (engine/base/frames.h) or any frame its user names. Paper is seen from
// both sides: the order of a triangle's corners means nothing to visibility; shapes wind
// counter-clockwise seen from the outer (upper) face.

#include <glm/vec3.hpp>

#include <array>
#include <cstdint>
#include <vector>

namespace petalproof {

using Triangle = std::array<std::uint32_t, 3>;

struct Mesh {
  std::vector<glm::vec3> vertices;  // mm
  std::vector<Triangle> triangles;
};

}  // namespace petalproof
