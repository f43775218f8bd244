#include "engine/visibility/internal/tile_kernel.h"

#include <algorithm>

namespace petalproof::visibility {
namespace {

// All bits in the lanes of a row of 16 that are in [from, to).
struct RowMasks {
  alignas(64) std::array<std::array<std::int32_t, block_px>, block_px + 1> below{};
  constexpr RowMasks() {
    for (std::size_t to = 0; to <= block_px; ++to) {
      for (std::size_t k = 0; k < to; ++k) below[to][k] = -1;
    }
  }
  Lanes at(int from, int to, int quad) const { return ~row(from, quad) & row(to, quad); }

 private:
  Lanes row(int to, int quad) const {
    return loaded(&below[static_cast<std::size_t>(to)][static_cast<std::size_t>(quad * lane_count)]);
  }
};
constexpr RowMasks row_masks;

// What is covered, by spans found before.
class SpanCoverage {
 public:
  SpanCoverage(const BlockRowSpans& spans, int block_x, int first_quad)
      : spans_(spans), block_x_(block_x), first_quad_(first_quad) {}

  bool startRow(int y) {
    from_ = std::clamp(spans_.from[static_cast<std::size_t>(y)] - block_x_, 0, block_px);
    to_ = std::clamp(spans_.to[static_cast<std::size_t>(y)] - block_x_, 0, block_px);
    return from_ < to_;
  }
  Lanes covered(int quad) const { return row_masks.at(from_, to_, first_quad_ + quad); }
  void endRow() {}

 private:
  const BlockRowSpans& spans_;
  int block_x_;
  int first_quad_;
  int from_ = 0;
  int to_ = 0;
};

// What is covered, by the edge functions at each pixel centre: not negative inside, and on edges that count.
class EdgeCoverage {
 public:
  // (x, y): the first pixel, in the picture.
  EdgeCoverage(const ScreenTriangle& t, int x, int y) {
    const std::size_t second = t.middle_right ? 1 : 2;  // clockwise, as y points down
    const std::size_t third = 3 - second;
    setEdge(0, t, 0, second, x, y);
    setEdge(1, t, second, third, x, y);
    setEdge(2, t, third, 0, x, y);
  }

  bool startRow(int) const { return true; }
  Lanes covered(int quad) const {
    const Lanes negative =
        (at_[0] + quad * per_quad_[0]) | (at_[1] + quad * per_quad_[1]) | (at_[2] + quad * per_quad_[2]);
    return ~(negative >> 31);
  }
  void endRow() {
    for (std::size_t k = 0; k < 3; ++k) at_[k] += per_row_[k];
  }

 private:
  void setEdge(std::size_t k, const ScreenTriangle& t, std::size_t from, std::size_t to, int x, int y) {
    const std::int32_t dx = t.x[to] - t.x[from];
    const std::int32_t dy = t.y[to] - t.y[from];
    const std::int32_t px = x * subpixels + subpixels / 2 - t.x[from];
    const std::int32_t py = y * subpixels + subpixels / 2 - t.y[from];
    const bool counts = dy < 0 || (dy == 0 && dx > 0);  // a left or a horizontal upper edge
    const std::int32_t first = dx * py - dy * px - (counts ? 0 : 1);
    const std::int32_t per_x = -dy * subpixels;
    at_[k] = allLanes(first) + Lanes{0, per_x, 2 * per_x, 3 * per_x};
    per_quad_[k] = per_x * lane_count;
    per_row_[k] = dx * subpixels;
  }

  std::array<Lanes, 3> at_;  // in the row's first lanes
  std::array<std::int32_t, 3> per_quad_{};
  std::array<std::int32_t, 3> per_row_{};
};

template <int quads, class Coverage>
void fillRows(Block& block, const BlockPart& part, const Slope& slope, double corner, std::uint32_t id,
              Coverage coverage) {
  const Lanes ours = allLanes(storedId(id));
  for (int y = part.begin; y < part.end; ++y, coverage.endRow()) {
    if (!coverage.startRow(y)) continue;
    const Lanes row_depth = allLanes(roundedDepth(corner + slope.per_y * y));
    const auto at = static_cast<std::size_t>(y * lanes_in_row + part.first_quad);
    Lanes* const depths = &block.depths[at];
    Lanes* const ids = &block.ids[at];
    for (int quad = 0; quad < quads; ++quad) {
      const Lanes depth = sumOf(row_depth, slope.along[static_cast<std::size_t>(part.first_quad + quad)]);
      // The comparison of ids gives -1 where ours is smaller.
      const Lanes wins = (depth > depths[quad] + (ids[quad] > ours)) & coverage.covered(quad);
      depths[quad] = chosen(wins, depth, depths[quad]);
      ids[quad] = chosen(wins, ours, ids[quad]);
    }
  }
}

// One loop for each width, so that none is left to be counted in it.
template <class Coverage>
void fillPart(Block& block, const BlockPart& part, const Slope& slope, double corner, std::uint32_t id,
              const Coverage& coverage) {
  static_assert(lanes_in_row == 4);
  switch (part.quads()) {
    case 1: return fillRows<1>(block, part, slope, corner, id, coverage);
    case 2: return fillRows<2>(block, part, slope, corner, id, coverage);
    case 3: return fillRows<3>(block, part, slope, corner, id, coverage);
    default: return fillRows<4>(block, part, slope, corner, id, coverage);
  }
}

}  // namespace

Slope::Slope(const ScreenTriangle& t, int tile_x0, int tile_y0, double scale)
    : corner(t.plane.at(tile_x0 + 0.5, tile_y0 + 0.5) * scale),
      per_x(t.plane.per_x * scale),
      per_y(t.plane.per_y * scale),
      nearest(double{t.nearest} * scale),
      clamped(t.clamped || nearest > greatest_depth) {
  if (clamped) return;
  static_assert(half_count == 2);
  for (int quad = 0; quad < lanes_in_row; ++quad) {
    const double x = quad * lane_count;
    const Doubles left = Doubles{x, x + 1} * per_x + to_integer;
    const Doubles right = Doubles{x + 2, x + 3} * per_x + to_integer;
    along[static_cast<std::size_t>(quad)] =
        lowerBits(reinterpret_cast<Longs>(left), reinterpret_cast<Longs>(right));
  }
}

BlockPart partOf(int column, int row, int left, int right, int first, int last) {
  const int x = column * block_px;
  const int y = row * block_px;
  return {std::max(first - y, 0), std::min(last - y, block_px), std::max(left - x, 0) / lane_count,
          (std::min(right - x, block_px) - 1) / lane_count};
}

bool isSmall(const ScreenTriangle& t) {
  // Corners within 16 px and pixels up to 16 px beyond: products of 2^14 and 2^15, two of them and steps
  // below 2^31.
  constexpr std::int32_t reach = block_px * subpixels;
  const std::int32_t x_min = std::min(std::min(t.x[0], t.x[1]), t.x[2]);
  const std::int32_t x_max = std::max(std::max(t.x[0], t.x[1]), t.x[2]);
  return x_max - x_min <= reach && t.y[2] - t.y[0] <= reach;
}

void fillSpans(Block& block, const BlockPart& part, const Slope& slope, double corner, std::uint32_t id,
               const BlockRowSpans& spans, int block_x) {
  fillPart(block, part, slope, corner, id, SpanCoverage(spans, block_x, part.first_quad));
}

void fillSmall(Block& block, const BlockPart& part, const Slope& slope, double corner,
               const ScreenTriangle& triangle, int pixel_x, int pixel_y) {
  fillPart(block, part, slope, corner, triangle.id,
           EdgeCoverage(triangle, pixel_x + part.first_quad * lane_count, pixel_y + part.begin));
}

}  // namespace petalproof::visibility
