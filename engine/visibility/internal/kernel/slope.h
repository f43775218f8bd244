#pragma once
// The depths of a triangle within a tile.

#include "engine/visibility/internal/kernel/lanes.h"
#include "engine/visibility/internal/tile.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cstdint>

namespace petalproof::visibility::PETALPROOF_KERNEL {

// Added to a number below 2^51 it leaves the nearest integer, modulo 2^32, in the lowest bits.
constexpr double to_integer = 0x1.8p52;
inline std::int32_t roundedDepth(double value) {
  return static_cast<std::int32_t>(std::bit_cast<std::int64_t>(value + to_integer) & 0xffffffff);
}

// At pixel (x, y) of a block whose first pixel has depth d, the depth is rounded(d + y * per_y) + along[x]:
// it depends on nothing but the plane and the place.
struct Slope {
  double corner = 0;  // at the centre of the tile's first pixel
  double per_x = 0;
  double per_y = 0;
  double nearest = 0;    // no pixel is nearer
  bool clamped = false;  // then `along` isn't set
  alignas(64) std::array<std::int32_t, block_px> along;

  Slope(const ScreenTriangle& t, const Tile& tile)
      : corner(t.plane.at(tile.partX0() + 0.5, tile.partY0() + 0.5) * tile.scale()),
        per_x(t.plane.per_x * tile.scale()),
        per_y(t.plane.per_y * tile.scale()),
        nearest(double{t.nearest} * tile.scale()),
        clamped(t.clamped || nearest > greatest_depth) {
    if (!clamped) setAlong();
  }

  double atBlock(int column, int row) const {
    return corner + (per_x * (column * block_px) + per_y * (row * block_px));
  }
  // No pixel of the block is nearer.
  double nearestIn(double at_block) const {
    const double reach = std::max(0.0, per_x * block_px) + std::max(0.0, per_y * block_px);
    return (clamped ? nearest : std::min(nearest, at_block + reach)) + 2;
  }

 private:
  void setAlong() {
    Doubles x{};
    for (int k = 0; k < half_count; ++k) x[k] = k;
    for (std::size_t at = 0; at < block_px; at += lane_count) {
      const Doubles left = x * per_x + to_integer;
      const Doubles right = (x + half_count) * per_x + to_integer;
      store(lowerBits(left, right), &along[at]);
      x += lane_count;
    }
  }
};

}  // namespace petalproof::visibility::PETALPROOF_KERNEL
