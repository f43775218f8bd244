#pragma once
// A mesh of triangles, in the mesh frame (engine/base/frames.h) or another frame that its user names. Paper
// is seen from both sides: visibility ignores the order of a triangle's corners; shapes wind
// counter-clockwise seen from the outer (upper) face. Vertices are shared within a petal (smooth paper) and
// never between petals; a sharp fold has its vertices twice.

#include <glm/vec3.hpp>

#include <array>
#include <cstdint>
#include <vector>

namespace petalproof::scene {

using Triangle = std::array<std::uint32_t, 3>;

struct Mesh {
  std::vector<glm::vec3> vertices;  // mm
  std::vector<Triangle> triangles;
  // Empty, or a value for each vertex: 0 deep in the bloom (a petal's foot) to 1 (a petal's rim). For
  // pictures only, which may darken the depths.
  std::vector<float> tint;
};

}  // namespace petalproof::scene
