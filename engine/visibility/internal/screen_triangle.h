#pragma once
// Triangles in the picture's coordinates: setup.h makes them, the kernels draw them.

#include "engine/visibility/rasteriser.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <limits>

namespace petalproof::visibility {

constexpr int subpixel_bits = 10;
constexpr int subpixels = 1 << subpixel_bits;

// A corner in the picture. `x`, `y` are snapped, in 1/1024 px; `u`, `v` and the depth are not.
struct ScreenCorner {
  double u = 0;              // px
  double v = 0;              // px
  double inverse_depth = 0;  // 1/mm
  std::int32_t x = 0;
  std::int32_t y = 0;
};

// Widens bounds that are kept as floats by more than the conversion to float rounds (2^-24).
constexpr float float_margin = 0x1p-22F;

// The inverse depth of a triangle's plane is affine in the picture: at_origin + per_x * u + per_y * v.
struct DepthPlane {
  double at_origin = 0;
  double per_x = 0;
  double per_y = 0;
  double at(double u, double v) const { return at_origin + (per_x * u + per_y * v); }
};

// Ready to be filled: corners in 1/1024 px from the top down, the plane from the unsnapped corners, and the
// inverse depths that the triangle lies between. One cache line.
struct alignas(64) ScreenTriangle {
  std::array<std::int32_t, 3> x{};
  std::array<std::int32_t, 3> y{};
  DepthPlane plane;
  float nearest = 0;   // no pixel has a greater inverse depth
  float farthest = 0;  // least inverse depth of the corners, rounded down
  std::uint32_t id = 0;
  bool clamped = false;       // steep: depths must be held between `farthest` and `nearest`
  bool middle_right = false;  // the middle corner lies right of the edge from the top to the bottom one
};

// A snapped corner as a number: y, then x, so that the lesser of two is the upper one, then the left one.
using CornerKey = std::int64_t;
constexpr std::int64_t leftmost_key = std::numeric_limits<std::int32_t>::min();
constexpr CornerKey cornerKey(std::int32_t x, std::int32_t y) {
  return std::int64_t{y} * (std::int64_t{1} << 32) + (x - leftmost_key);
}
constexpr std::int32_t xOf(CornerKey key) {
  return static_cast<std::int32_t>((key & 0xffffffff) + leftmost_key);
}
constexpr std::int32_t yOf(CornerKey key) { return static_cast<std::int32_t>(key >> 32); }

// From the top down.
constexpr std::array<CornerKey, 3> sortedDownwards(CornerKey p, CornerKey q, CornerKey r) {
  const CornerKey a = std::min(p, q);
  const CornerKey b = std::max(p, q);
  const CornerKey upper = std::min(b, r);
  return {std::min(a, upper), std::max(a, upper), std::max(b, r)};
}

// Pixels [x0, x1) x [y0, y1).
struct PixelBox {
  int x0 = 0;
  int y0 = 0;
  int x1 = 0;
  int y1 = 0;
  bool empty() const { return x0 >= x1 || y0 >= y1; }
};

// The first pixel whose centre is at or after a place in 1/1024 px.
constexpr int firstCentreFrom(std::int32_t place) { return (place + subpixels / 2 - 1) >> subpixel_bits; }

}  // namespace petalproof::visibility
