#pragma once
// The project's coordinate frames, with a point type for each, so that the compiler rejects a point of the
// wrong frame.
//
//   wall frame    right-handed, millimetres. Origin: the wall's lower left corner seen from the
//                 front. x right, y up, z out of the board's front face towards the guests. The
//                 floor is y = -above_floor.
//   board plane   z = 0 of the wall frame: x right, y up, millimetres.
//   camera frame  x right, y up, looks down -z, millimetres.
//   picture       pixels, origin top left, x right, y down; the centre of pixel (i, j) is at
//                 (i + 0.5, j + 0.5).
//   mesh frame    millimetres; z towards the guests, the base at z = 0, the axis at x = y = 0, the
//                 tip of a leaf or spray at +y.
//
// Transforms are named targetFromSource.

#include <glm/mat3x3.hpp>
#include <glm/mat4x3.hpp>
#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

namespace petalproof {

struct WallPoint {
  glm::dvec3 mm{0};
};

struct BoardPoint {
  glm::dvec2 mm{0};
};

struct CameraPoint {
  glm::dvec3 mm{0};
};

struct PixelPoint {
  glm::dvec2 px{0};
};

inline WallPoint onBoardPlane(BoardPoint p) { return {glm::dvec3(p.mm, 0.0)}; }

// An axis-aligned rectangle on the board plane.
struct BoardRect {
  glm::dvec2 min_mm{0};
  glm::dvec2 max_mm{0};
};

}  // namespace petalproof
