#pragma once
// The innermost loops: fill a triangle's rows into a tile.

#include "engine/visibility/internal/kernel/lanes.h"
#include "engine/visibility/internal/kernel/slope.h"
#include "engine/visibility/internal/kernel/spans.h"
#include "engine/visibility/internal/tile.h"

#include <algorithm>
#include <array>
#include <cstdint>

namespace petalproof::visibility::PETALPROOF_KERNEL {

// Rows [begin, end) of a tile, and in each of them `groups` times lane_count pixels from pixel `x` on: 16 at
// most.
struct Window {
  int begin;
  int end;
  int x;
  int groups;

  Window(int left, int right, int first, int last)
      : begin(first),
        end(last),
        x(std::min(left, tile_px - (right - left + lane_count - 1) / lane_count * lane_count)),
        groups((right - left + lane_count - 1) / lane_count) {}
};

// All bits in the lanes of a row of 16 that are in [from, to).
struct RowMasks {
  alignas(64) std::array<std::array<std::int32_t, block_px>, block_px + 1> below{};
  constexpr RowMasks() {
    for (std::size_t to = 0; to <= block_px; ++to) {
      for (std::size_t k = 0; k < to; ++k) below[to][k] = -1;
    }
  }
  Lanes at(int from, int to, int group) const { return ~row(from, group) & row(to, group); }

 private:
  Lanes row(int to, int group) const {
    return loaded(&below[static_cast<std::size_t>(to)][static_cast<std::size_t>(group) * lane_count]);
  }
};
inline constexpr RowMasks row_masks;

// A row's coverage from spans (BlockRowSpans), for large triangles.
class SpanCoverage {
 public:
  // `block_y`: the first row of the spans.
  SpanCoverage(const BlockRowSpans& spans, int block_y, const Window& window)
      : spans_(spans), block_y_(block_y), x_(window.x) {}

  bool startRow(int y) {
    from_ = std::clamp(spans_.from[static_cast<std::size_t>(y - block_y_)] - x_, 0, block_px);
    to_ = std::clamp(spans_.to[static_cast<std::size_t>(y - block_y_)] - x_, 0, block_px);
    return from_ < to_;
  }
  Lanes covered(int group) const { return row_masks.at(from_, to_, group); }
  void endRow() {}

 private:
  const BlockRowSpans& spans_;
  int block_y_;
  int x_;
  int from_ = 0;
  int to_ = 0;
};

// A row's coverage from the edge functions at each pixel centre, for small triangles: not negative inside and
// on edges that count. They are computed modulo 2^32.
class EdgeCoverage {
 public:
  // For triangles whose corners lie within 32 px: the edge functions of pixels in their bounding box and up
  // to 7 px beyond are below 40 * 33 * 2^20 < 2^31.
  static bool fits(const ScreenTriangle& t) {
    constexpr std::int32_t reach = 32 * subpixels;
    const std::int32_t x_min = std::min(std::min(t.x[0], t.x[1]), t.x[2]);
    const std::int32_t x_max = std::max(std::max(t.x[0], t.x[1]), t.x[2]);
    return x_max - x_min <= reach && t.y[2] - t.y[0] <= reach;
  }

  EdgeCoverage(const ScreenTriangle& t, const Tile& tile, const Window& window) {
    const std::int32_t x = (tile.partX0() + window.x) * subpixels + subpixels / 2;
    const std::int32_t y = (tile.partY0() + window.begin) * subpixels + subpixels / 2;
    const std::size_t second = t.middle_right ? 1 : 2;  // clockwise, as y points down
    const std::size_t third = 3 - second;
    setEdge(0, t, 0, second, x, y);
    setEdge(1, t, second, third, x, y);
    setEdge(2, t, third, 0, x, y);
  }

  bool startRow(int) const { return true; }
  Lanes covered(int group) const {
    const auto step = static_cast<std::uint32_t>(group);
    const ULanes negative =
        (at_[0] + step * per_group_[0]) | (at_[1] + step * per_group_[1]) | (at_[2] + step * per_group_[2]);
    return wholeMask(reinterpret_cast<Lanes>(~negative));
  }
  void endRow() {
    for (std::size_t k = 0; k < 3; ++k) at_[k] += per_row_[k];
  }

 private:
  void setEdge(std::size_t k, const ScreenTriangle& t, std::size_t from, std::size_t to, std::int32_t x,
               std::int32_t y) {
    const std::int32_t dx = t.x[to] - t.x[from];
    const std::int32_t dy = t.y[to] - t.y[from];
    const bool counts = dy < 0 || (dy == 0 && dx > 0);  // a left or a horizontal upper edge
    const std::uint32_t first = static_cast<std::uint32_t>(dx) * static_cast<std::uint32_t>(y - t.y[from]) -
                                static_cast<std::uint32_t>(dy) * static_cast<std::uint32_t>(x - t.x[from]) -
                                (counts ? 0 : 1);
    const auto per_x = static_cast<std::uint32_t>(-dy * subpixels);
    at_[k] = reinterpret_cast<ULanes>(laneNumbers()) * per_x + first;
    per_group_[k] = per_x * lane_count;
    per_row_[k] = static_cast<std::uint32_t>(dx * subpixels);
  }

  std::array<ULanes, 3> at_;  // in the row's first lanes
  std::array<std::uint32_t, 3> per_group_{};
  std::array<std::uint32_t, 3> per_row_{};
};

template <int groups, class Coverage>
[[gnu::always_inline]] inline void fillRows(Tile& tile, const Window& window, const Slope& slope,
                                            std::uint32_t id, Coverage coverage) {
  const Lanes ours = allLanes(storedId(id));
  std::array<Lanes, groups> along;
  for (int k = 0; k < groups; ++k)
    along[static_cast<std::size_t>(k)] = slope.along(window.x + k * lane_count);
  for (int y = window.begin; y < window.end; ++y, coverage.endRow()) {
    if (!coverage.startRow(y)) continue;
    const Lanes row_depth = allLanes(slope.ofRow(y));
    for (int k = 0; k < groups; ++k) {
      const std::size_t at = Tile::at(window.x + k * lane_count, y);
      std::int32_t* const depths = tile.depths(at);
      std::int32_t* const ids = tile.ids(at);
      const Lanes depth = sumOf(row_depth, along[static_cast<std::size_t>(k)]);
      const Lanes depth_there = loaded(depths);
      const Lanes id_there = loaded(ids);
      // The comparison of ids gives -1 where ours is smaller.
      const Lanes wins = (depth > depth_there + (id_there > ours)) & coverage.covered(k);
      store(chosen(wins, depth, depth_there), depths);
      store(chosen(wins, ours, id_there), ids);
    }
  }
}

// Writes an id and its depths where they are nearer than the tile's, or as near with a smaller id. Each width
// has a loop of its own, so that the compiler unrolls it.
template <class Coverage>
[[gnu::always_inline]] inline void fillWindow(Tile& tile, const Window& window, const Slope& slope,
                                              std::uint32_t id, const Coverage& coverage) {
  switch (window.groups) {
    case 1: return fillRows<1>(tile, window, slope, id, coverage);
    case 2: return fillRows<2>(tile, window, slope, id, coverage);
#if PETALPROOF_LANES == 4
    case 3: return fillRows<3>(tile, window, slope, id, coverage);
    case 4: return fillRows<4>(tile, window, slope, id, coverage);
#endif
    default: return;
  }
}

// The farthest depth in a block.
inline std::int32_t farthestIn(Tile& tile, int column, int row) {
  constexpr std::size_t groups = block_px / lane_count;
  std::array<Lanes, groups> least;
  const std::size_t first = Tile::at(column * block_px, row * block_px);
  for (std::size_t k = 0; k < groups; ++k) least[k] = loaded(tile.depths(first + k * lane_count));
  for (std::size_t y = 1; y < block_px; ++y) {
    for (std::size_t k = 0; k < groups; ++k)
      least[k] = lesser(loaded(tile.depths(first + y * tile_px + k * lane_count)), least[k]);
  }
  for (std::size_t k = 1; k < groups; ++k) least[0] = lesser(least[k], least[0]);
  return leastOf(least[0]);
}

}  // namespace petalproof::visibility::PETALPROOF_KERNEL
