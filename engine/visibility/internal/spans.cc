#include "engine/visibility/internal/spans.h"

#include "engine/visibility/internal/lanes.h"

#include <algorithm>

namespace petalproof::visibility {
namespace {

constexpr double one = static_cast<double>(std::int64_t{1} << TileEdge::fraction_bits);

// (n - 1/2) / d with the binary places of a TileEdge, for 0 < d <= 2^36: rounded once, at the end.
std::int64_t exactQuotient(std::int64_t n, std::int64_t d) {
  std::int64_t quotient = (n - 1) / d;
  std::int64_t remainder = (n - 1) % d;
  if (remainder < 0) {
    --quotient;
    remainder += d;
  }
  const double fraction = (static_cast<double>(remainder) + 0.5) / static_cast<double>(d);
  return quotient * (std::int64_t{1} << TileEdge::fraction_bits) + static_cast<std::int64_t>(fraction * one);
}

// The edge from corner `upper` down to corner `lower`; `row` is the first row of the tile that it crosses.
TileEdge edgeOf(const ScreenTriangle& t, std::size_t upper, std::size_t lower, int row, int tile_x0,
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
    place = static_cast<std::int64_t>((static_cast<double>(n) - 0.5) * one_over_dy * (one / subpixels));
  } else {
    place = exactQuotient(n, dy * subpixels);
  }
  TileEdge edge;
  // An edge less than a pixel high crosses one row at most.
  if (dy >= subpixels) {
    edge.per_row =
        static_cast<std::uint64_t>(static_cast<std::int64_t>(static_cast<double>(dx) * one_over_dy * one));
  }
  edge.at_row_0 = static_cast<std::uint64_t>(place) + (std::uint64_t{1} << TileEdge::fraction_bits) -
                  edge.per_row * static_cast<std::uint64_t>(row);
  return edge;
}

// An edge's pixels in lane_count rows, then in the next ones.
class EdgeRows {
 public:
  EdgeRows(const TileEdge& edge, int first_row) : step_(Longs{} + edge.per_row * lane_count) {
    static_assert(half_count == 2);
    const std::uint64_t at_first = edge.at_row_0 + edge.per_row * static_cast<std::uint64_t>(first_row);
    upper_ = Longs{at_first, at_first + edge.per_row};
    lower_ = upper_ + edge.per_row * half_count;
  }
  // Gives the pixels and goes down.
  Lanes next() {
    const Lanes pixels = upperBits(upper_, lower_) >> (TileEdge::fraction_bits - 32);
    upper_ += step_;
    lower_ += step_;
    return pixels;
  }

 private:
  Longs upper_;  // of the upper half of the rows
  Longs lower_;
  Longs step_;
};

}  // namespace

PixelBox boxOf(const ScreenTriangle& t, int tile_x0, int tile_y0) {
  const auto inTile = [](std::int32_t place, int tile) {
    return std::clamp(firstCentreFrom(place) - tile, 0, tile_px);
  };
  return {inTile(std::min(std::min(t.x[0], t.x[1]), t.x[2]), tile_x0), inTile(t.y[0], tile_y0),
          inTile(std::max(std::max(t.x[0], t.x[1]), t.x[2]), tile_x0), inTile(t.y[2], tile_y0)};
}

TileEdges::TileEdges(const ScreenTriangle& t, int tile_x0, int tile_y0) : through_left(t.middle_right) {
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

BlockRowSpans::BlockRowSpans(const TileEdges& edges, int block_row) {
  const int block_y = block_row * block_px;
  begin = std::max(edges.first - block_y, 0);
  end = std::min(edges.last - block_y, block_px);
  const int first_row = block_y + begin / lane_count * lane_count;
  EdgeRows through(edges.through, first_row);
  EdgeRows upper(edges.upper, first_row);
  EdgeRows lower(edges.lower, first_row);
  const Lanes swap = allLanes(edges.through_left ? 0 : -1);
  Lanes rows = laneNumbers() + first_row;
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
    rows += lane_count;
  }
}

BlockRowSpans::Extent BlockRowSpans::extent() const {
  Extent extent{tile_px, 0};
  for (auto y = static_cast<std::size_t>(begin); y < static_cast<std::size_t>(end); ++y) {
    extent.left = std::min(extent.left, from[y]);
    extent.right = std::max(extent.right, to[y]);
  }
  return extent;
}

}  // namespace petalproof::visibility
