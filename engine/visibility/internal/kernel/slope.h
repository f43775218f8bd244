#pragma once
// The depths of a triangle within a tile.

#include "engine/visibility/internal/kernel/lanes.h"
#include "engine/visibility/internal/tile.h"

#include <algorithm>
#include <bit>
#include <cstdint>

namespace petalproof::visibility::PETALPROOF_KERNEL {

// Added to a number below 2^51 it leaves the nearest integer, modulo 2^32, in the lowest bits.
constexpr double to_integer = 0x1.8p52;
inline std::int32_t roundedDepth(double value) {
  return static_cast<std::int32_t>(std::bit_cast<std::int64_t>(value + to_integer) & 0xffffffff);
}

// At pixel (x, y) of the tile the depth is rounded(corner + y * per_y) + rounded(x * per_x): it depends on
// nothing but the plane and the place.
struct Slope {
  double corner = 0;  // at the centre of the tile's first pixel
  double per_x = 0;
  double per_y = 0;
  double nearest = 0;    // greatest depth of a pixel, before rounding
  bool clamped = false;  // depths must be held between the triangle's nearest and farthest

  Slope(const ScreenTriangle& t, const Tile& tile)
      : corner(t.plane.at(tile.partX0() + 0.5, tile.partY0() + 0.5) * tile.scale()),
        per_x(t.plane.per_x * tile.scale()),
        per_y(t.plane.per_y * tile.scale()),
        nearest(double{t.nearest} * tile.scale()),
        clamped(t.clamped || nearest > greatest_depth) {}

  // A bound: no pixel of the box is nearer.
  double nearestIn(const PixelBox& box) const {
    constexpr double rounding = 2;  // of two terms, by less than 1 each
    if (clamped) return nearest + rounding;
    const double highest = corner + std::max(per_x * box.x0, per_x * (box.x1 - 1)) +
                           std::max(per_y * box.y0, per_y * (box.y1 - 1));
    return std::min(nearest, highest) + rounding;
  }

  std::int32_t ofRow(int y) const { return roundedDepth(corner + per_y * y); }
  // Added to ofRow() it gives the depths of pixels x, x + 1, ...
  Lanes along(int x) const {
    const Doubles left = (halfNumbers() + x) * per_x + to_integer;
    const Doubles right = (halfNumbers() + (x + half_count)) * per_x + to_integer;
    return lowerBits(left, right);
  }
};

}  // namespace petalproof::visibility::PETALPROOF_KERNEL
