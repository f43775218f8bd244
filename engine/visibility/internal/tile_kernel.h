#pragma once
// The innermost loops: a triangle's rows in one block. Portable, four lanes wide; wider ones, chosen when the
// program starts, belong beside it (they must give equal blocks).

#include "engine/visibility/internal/lanes.h"
#include "engine/visibility/internal/setup.h"
#include "engine/visibility/internal/spans.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cstdint>

namespace petalproof::visibility {

constexpr std::int32_t greatest_depth = 1 << 30;
constexpr int lanes_in_row = block_px / lane_count;

// 16 rows of 16 pixels. Ids are stored with their top bit flipped: the machine compares signed numbers.
struct Block {
  std::array<Lanes, block_px * lanes_in_row> depths;
  std::array<Lanes, block_px * lanes_in_row> ids;
};
constexpr std::int32_t storedId(std::uint32_t id) { return static_cast<std::int32_t>(id ^ 0x80000000U); }

// Added to a number below 2^51 it leaves the nearest integer, modulo 2^32, in the lowest bits.
constexpr double to_integer = 0x1.8p52;
inline std::int32_t roundedDepth(double value) {
  return static_cast<std::int32_t>(std::bit_cast<std::int64_t>(value + to_integer) & 0xffffffff);
}

// A triangle's depths within a tile: at pixel (x, y) of a block whose first pixel has depth d, that is
// rounded(d + y * per_y) + along[x]. Depends on nothing but the plane and the place.
struct Slope {
  double corner = 0;  // at the centre of the tile's first pixel
  double per_x = 0;
  double per_y = 0;
  double nearest = 0;    // no pixel is nearer
  bool clamped = false;  // then `along` isn't set
  std::array<Lanes, lanes_in_row> along;

  Slope(const ScreenTriangle& triangle, int tile_x0, int tile_y0, double scale);

  double atBlock(int column, int row) const {
    return corner + (per_x * (column * block_px) + per_y * (row * block_px));
  }
  // No pixel of the block is nearer.
  double nearestIn(double at_block) const {
    const double reach = std::max(0.0, per_x * block_px) + std::max(0.0, per_y * block_px);
    return (clamped ? nearest : std::min(nearest, at_block + reach)) + 2;
  }
};

// Rows [begin, end) and columns of lanes [first_quad, last_quad] of a block.
struct BlockPart {
  int begin;
  int end;
  int first_quad;
  int last_quad;
  int quads() const { return last_quad - first_quad + 1; }
  bool empty() const { return begin >= end || first_quad > last_quad; }
};
// The part of block (column, row) of a tile that holds the pixels [left, right) x [first, last) of the tile.
BlockPart partOf(int column, int row, int left, int right, int first, int last);

// Both put an id and its depths where they are nearer than what the block has, or as near with a smaller id.
// `corner` is slope.atBlock() of the block.
void fillSpans(Block& block, const BlockPart& part, const Slope& slope, double corner, std::uint32_t id,
               const BlockRowSpans& spans, int block_x);
// `pixel` is the block's first pixel in the picture.
void fillSmall(Block& block, const BlockPart& part, const Slope& slope, double corner,
               const ScreenTriangle& triangle, int pixel_x, int pixel_y);

// True for triangles so small that the edge functions of their pixels fit into 32 bits.
bool isSmall(const ScreenTriangle& triangle);

}  // namespace petalproof::visibility
