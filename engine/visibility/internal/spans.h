#pragma once
// Which pixels of a row a triangle covers, exactly.
//
// A pixel is covered if its centre lies inside the triangle, on a left edge, or on a horizontal upper
// edge (the top-left rule). Row y is crossed by an edge if y_upper <= centre < y_lower; there the edge
// passes x_upper + (centre - y_upper) * dx / dy, and pixels from the first centre at or right of that
// belong to its right side. Both triangles at an edge compute the same pixel.

#include "engine/visibility/internal/setup.h"

#include <array>
#include <cstdint>

namespace petalproof::visibility {

constexpr int tile_px = FinishedTile::size_px;
constexpr int block_px = 16;

// The pixels of a tile, counted from its upper left corner, whose centres lie in the triangle's bounding box.
PixelBox boxOf(const ScreenTriangle& triangle, int tile_x0, int tile_y0);

// Where an edge crosses the rows of a tile: in row `y` the first pixel at or right of it is
// (at_row_0 + y * per_row) >> fraction_bits, modulo 2^64, for the rows that the edge crosses.
//
// That pixel is ceil(n / d) = floor((n - 1/2) / d) + 1 with integers n, d: what is rounded down is never
// nearer to an integer than 1 / (2 d), d <= 2^36 inside the guard band. It is kept with 44 binary places; 64
// steps down a tile are off by less than 2^-37.9, so no pixel is ever off.
struct TileEdge {
  static constexpr int fraction_bits = 44;
  std::uint64_t at_row_0 = 0;
  std::uint64_t per_row = 0;
};

// A triangle's edges in a tile. Rows [first, turn) lie between `through` and `upper`, rows [turn, last)
// between `through` and `lower`.
struct TileEdges {
  TileEdge through;
  TileEdge upper;
  TileEdge lower;
  int first = 0;
  int turn = 0;
  int last = 0;
  bool through_left = false;

  TileEdges(const ScreenTriangle& triangle, int tile_x0, int tile_y0);
};

// What a triangle covers in 16 rows of a tile: in row y the pixels [from[y], to[y]), counted from the tile's
// left edge; none where from >= to. Only rows [begin, end) are set; outside there are none.
struct BlockRowSpans {
  int begin = 0;
  int end = 0;
  alignas(64) std::array<std::int32_t, block_px> from;
  alignas(64) std::array<std::int32_t, block_px> to;

  BlockRowSpans(const TileEdges& edges, int block_row);

  // Columns [left, right) hold all that is covered in these rows.
  struct Extent {
    int left;
    int right;
  };
  Extent extent() const;
};

}  // namespace petalproof::visibility
