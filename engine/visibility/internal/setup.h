#pragma once
// From corners in the camera frame to triangles in the picture.

#include "engine/visibility/rasteriser.h"

#include <glm/vec3.hpp>

#include <array>
#include <cstdint>

namespace petalproof::visibility {

constexpr int subpixels = 256;

// A corner in the picture. `x`, `y` are snapped, in 1/256 px; the rest is not.
struct ScreenCorner {
  double u = 0;              // px
  double v = 0;              // px
  double inverse_depth = 0;  // 1/mm
  std::int32_t x = 0;
  std::int32_t y = 0;
};

// The inverse depth of a triangle's plane is affine in the picture: at_origin + per_x * u + per_y * v.
struct DepthPlane {
  double at_origin = 0;
  double per_x = 0;
  double per_y = 0;
  double at(double u, double v) const { return at_origin + (per_x * u + per_y * v); }
};

// Ready to be filled: corners in 1/256 px, the plane from the unsnapped corners, and the inverse depths
// the triangle lies between.
struct ScreenTriangle {
  std::array<std::int32_t, 3> x{};
  std::array<std::int32_t, 3> y{};
  DepthPlane plane;
  float nearest = 0;   // greatest inverse depth, rounded up
  float farthest = 0;  // least inverse depth, rounded down
  std::uint32_t id = 0;
  bool clamped = false;  // so steep that its plane must be held between the two
};

// The corner must be inside the guard band (engine/visibility/internal/clip.h).
ScreenCorner projected(const glm::dvec3& camera_mm, const RasterView& view);

// False where it covers no pixel centre of the picture.
bool setUp(const std::array<ScreenCorner, 3>& corners, const RasterView& view, std::uint32_t id,
           ScreenTriangle& out);

// The same with the plane given: for the pieces of a clipped triangle.
bool setUp(const std::array<ScreenCorner, 3>& corners, const DepthPlane& plane, const RasterView& view,
           std::uint32_t id, ScreenTriangle& out);

// The plane through three points of the camera frame, some of which may be behind the camera.
DepthPlane planeThrough(const std::array<glm::dvec3, 3>& camera_mm, const RasterView& view);

// Pixels whose centres lie in the triangle's bounding box, cut to the picture: [x0, x1) x [y0, y1).
struct PixelBox {
  int x0 = 0;
  int y0 = 0;
  int x1 = 0;
  int y1 = 0;
  bool empty() const { return x0 >= x1 || y0 >= y1; }
};
PixelBox boxOf(const ScreenTriangle& triangle, int width_px, int height_px);

}  // namespace petalproof::visibility
