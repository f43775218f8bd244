#pragma once
// Finds which pixels of each row a triangle covers, exactly.
//
// A pixel is covered if its centre lies inside the triangle, on a left edge, or on a horizontal upper
// edge (the top-left rule). Row y is crossed by an edge if y_upper <= centre < y_lower; there the edge
// passes x_upper + (centre - y_upper) * dx / dy, and pixels from the first centre at or right of that
// belong to its right side. Both triangles at an edge compute the same pixel.

#include "engine/visibility/internal/kernel/lanes.h"
#include "engine/visibility/internal/tile.h"

#include <algorithm>
#include <array>
#include <cstdint>

namespace petalproof::visibility::PETALPROOF_KERNEL {

// Where an edge crosses the rows of a tile: in row `y` the first pixel at or right of it is
// (at_row_0 + y * per_row) >> fraction_bits, modulo 2^64, for the rows that the edge crosses.
//
// That pixel is ceil(n / d) = floor((n - 1/2) / d) + 1 with integers n, d: what is rounded down is never
// nearer to an integer than 1 / (2 d), d <= 2^36 inside the guard band. It is kept with 44 binary places; 64
// steps down a tile are off by less than 2^-37.9, so no pixel is ever off.
struct TileEdge {
  static constexpr int fraction_bits = 44;
  static constexpr double unit = static_cast<double>(std::int64_t{1} << fraction_bits);
  std::uint64_t at_row_0 = 0;
  std::uint64_t per_row = 0;
};

// (n - 1/2) / d with the binary places of a TileEdge, for 0 < d <= 2^36: rounded once, at the end.
inline std::int64_t exactQuotient(std::int64_t n, std::int64_t d) {
  std::int64_t quotient = (n - 1) / d;
  std::int64_t remainder = (n - 1) % d;
  if (remainder < 0) {
    --quotient;
    remainder += d;
  }
  const double fraction = (static_cast<double>(remainder) + 0.5) / static_cast<double>(d);
  return quotient * (std::int64_t{1} << TileEdge::fraction_bits) +
         static_cast<std::int64_t>(fraction * TileEdge::unit);
}

// The edge from corner `upper` down to corner `lower`; `row` is the first row of the tile that it crosses.
inline TileEdge edgeOf(const ScreenTriangle& t, std::size_t upper, std::size_t lower, int row, int tile_x0,
                       int tile_y0) {
  constexpr std::int64_t tall = std::int64_t{1} << 22;
  const std::int64_t dx = std::int64_t{t.x[lower]} - t.x[upper];
  const std::int64_t dy = std::int64_t{t.y[lower]} - t.y[upper];
  const double one_over_dy = 1.0 / static_cast<double>(dy);
  // The crossing less half a pixel, in pixels from the tile's left edge, is n / (1024 dy).
  const std::int64_t x = std::int64_t{t.x[upper]} - std::int64_t{tile_x0} * subpixels - subpixels / 2;
  const std::int64_t y = std::int64_t{row + tile_y0} * subpixels + subpixels / 2 - t.y[upper];
  const std::int64_t n = x * dy + y * dx;
  std::int64_t place = 0;
  if (dy < tall) {  // 1024 dy < 2^32: a double is near enough, below 2^-34
    place = static_cast<std::int64_t>((static_cast<double>(n) - 0.5) * one_over_dy *
                                      (TileEdge::unit / subpixels));
  } else {
    place = exactQuotient(n, dy * subpixels);
  }
  TileEdge edge;
  // An edge less than a pixel high crosses one row at most.
  if (dy >= subpixels) {
    edge.per_row = static_cast<std::uint64_t>(
        static_cast<std::int64_t>(static_cast<double>(dx) * one_over_dy * TileEdge::unit));
  }
  edge.at_row_0 = static_cast<std::uint64_t>(place) + (std::uint64_t{1} << TileEdge::fraction_bits) -
                  edge.per_row * static_cast<std::uint64_t>(row);
  return edge;
}

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

  TileEdges(const ScreenTriangle& t, int tile_x0, int tile_y0) : through_left(t.middle_right) {
    const auto rowFrom = [tile_y0](std::int32_t y) {
      return std::clamp(firstCentreFrom(y) - tile_y0, 0, tile_px);
    };
    first = rowFrom(t.y[0]);
    turn = rowFrom(t.y[1]);
    last = rowFrom(t.y[2]);
    if (first < last) through = edgeOf(t, 0, 2, first, tile_x0, tile_y0);
    if (first < turn) upper = edgeOf(t, 0, 1, first, tile_x0, tile_y0);
    if (turn < last) lower = edgeOf(t, 1, 2, turn, tile_x0, tile_y0);
  }
};

// Walks down an edge: gives its pixels in lane_count rows at a time.
class EdgeRows {
 public:
  EdgeRows(const TileEdge& edge, int first_row) : step_(ULongs{} + edge.per_row * lane_count) {
    const std::uint64_t at_first = edge.at_row_0 + edge.per_row * static_cast<std::uint64_t>(first_row);
#if PETALPROOF_LANES == 8
    upper_ =
        ULongs{at_first, at_first + edge.per_row, at_first + 2 * edge.per_row, at_first + 3 * edge.per_row};
#else
    upper_ = ULongs{at_first, at_first + edge.per_row};
#endif
    lower_ = upper_ + edge.per_row * half_count;
  }
  // The edge's pixels in the next lane_count rows.
  Lanes next() {
    const Lanes pixels = upperBits(upper_, lower_) >> (TileEdge::fraction_bits - 32);
    upper_ += step_;
    lower_ += step_;
    return pixels;
  }

 private:
  typedef std::uint64_t ULongs __attribute__((vector_size(sizeof(Lanes))));
  ULongs upper_;  // of the upper half of the rows
  ULongs lower_;
  ULongs step_;
};

// The spans that a triangle covers in 16 rows of a tile: in row y the pixels [from[y], to[y]), counted from
// the tile's left edge; none where from >= to. Only rows [begin, end) are set; the triangle covers no others.
struct BlockRowSpans {
  alignas(64) std::array<std::int32_t, block_px> from;
  alignas(64) std::array<std::int32_t, block_px> to;
  int begin = 0;
  int end = 0;

  BlockRowSpans(const TileEdges& edges, int block_row) {
    const int block_y = block_row * block_px;
    begin = std::max(edges.first - block_y, 0);
    end = std::min(edges.last - block_y, block_px);
    const int first_row = block_y + begin / lane_count * lane_count;
    EdgeRows through(edges.through, first_row);
    EdgeRows upper(edges.upper, first_row);
    EdgeRows lower(edges.lower, first_row);
    const Lanes swap = allLanes(edges.through_left ? 0 : -1);
    Lanes rows = laneNumbers() + first_row;
    Lanes least = allLanes(tile_px);
    Lanes greatest = allLanes(0);
    for (int y = first_row; y < block_y + end; y += lane_count) {
      const Lanes a = through.next();
      const Lanes above = upper.next();
      const Lanes below = lower.next();
      const Lanes side = chosen(rows < edges.turn, above, below);
      const Lanes crossed = (rows >= edges.first) & (rows < edges.last);
      const Lanes left = chosen(crossed, greater(chosen(swap, side, a), allLanes(0)), allLanes(tile_px));
      const Lanes right = crossed & lesser(chosen(swap, a, side), allLanes(tile_px));
      const auto k = static_cast<std::size_t>(y - block_y);
      store(left, &from[k]);
      store(right, &to[k]);
      least = lesser(left, least);
      greatest = greater(right, greatest);
      rows += lane_count;
    }
    extent_ = {leastOf(least), greatestOf(greatest)};
  }

  // Columns [left, right) hold all covered pixels of these rows.
  struct Extent {
    int left;
    int right;
  };
  Extent extent() const { return extent_; }

 private:
  Extent extent_;
};

}  // namespace petalproof::visibility::PETALPROOF_KERNEL
