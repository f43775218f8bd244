#pragma once
// The innermost loops: a triangle's rows in one block.

#include "engine/visibility/internal/kernel/lanes.h"
#include "engine/visibility/internal/kernel/slope.h"
#include "engine/visibility/internal/kernel/spans.h"
#include "engine/visibility/internal/tile.h"

#include <algorithm>
#include <array>
#include <cstdint>

namespace petalproof::visibility::PETALPROOF_KERNEL {

// Rows [begin, end) of a block, and in each row `groups` times lane_count pixels from pixel `x` on.
struct BlockPart {
  int begin;
  int end;
  int x;
  int groups;
};

// The part of block (column, row) of a tile that holds the pixels [left, right) x [first, last) of the tile.
inline BlockPart partOf(int column, int row, int left, int right, int first, int last) {
  const int from = std::max(left - column * block_px, 0);
  const int to = std::min(right - column * block_px, block_px);
  const int groups = (to - from + lane_count - 1) / lane_count;
  return {std::max(first - row * block_px, 0), std::min(last - row * block_px, block_px),
          std::min(from, block_px - groups * lane_count), groups};
}

// All bits in the lanes of a row of 16 that are in [from, to).
struct RowMasks {
  alignas(64) std::array<std::array<std::int32_t, block_px>, block_px + 1> below{};
  constexpr RowMasks() {
    for (std::size_t to = 0; to <= block_px; ++to) {
      for (std::size_t k = 0; k < to; ++k) below[to][k] = -1;
    }
  }
  // Of the pixels from x on.
  Lanes at(int from, int to, int x) const { return ~row(from, x) & row(to, x); }

 private:
  Lanes row(int to, int x) const {
    return loaded(&below[static_cast<std::size_t>(to)][static_cast<std::size_t>(x)]);
  }
};
inline constexpr RowMasks row_masks;

// What is covered, by spans found before.
class SpanCoverage {
 public:
  SpanCoverage(const BlockRowSpans& spans, int block_x, int first_x)
      : spans_(spans), block_x_(block_x), first_x_(first_x) {}

  bool startRow(int y) {
    from_ = std::clamp(spans_.from[static_cast<std::size_t>(y)] - block_x_, 0, block_px);
    to_ = std::clamp(spans_.to[static_cast<std::size_t>(y)] - block_x_, 0, block_px);
    return from_ < to_;
  }
  Lanes covered(int group) const { return row_masks.at(from_, to_, first_x_ + group * lane_count); }
  void endRow() {}

 private:
  const BlockRowSpans& spans_;
  int block_x_;
  int first_x_;
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
  Lanes covered(int group) const {
    const Lanes negative = (at_[0] + group * per_group_[0]) | (at_[1] + group * per_group_[1]) |
                           (at_[2] + group * per_group_[2]);
    return wholeMask(~negative);
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
    at_[k] = laneNumbers() * per_x + first;
    per_group_[k] = per_x * lane_count;
    per_row_[k] = dx * subpixels;
  }

  std::array<Lanes, 3> at_;  // in the row's first lanes
  std::array<std::int32_t, 3> per_group_{};
  std::array<std::int32_t, 3> per_row_{};
};

// True for triangles so small that the edge functions of their pixels fit into 32 bits.
inline bool isSmall(const ScreenTriangle& t) {
  // Corners within 16 px and pixels up to 16 px beyond: products of 2^14 and 2^15, two of them and steps
  // below 2^31.
  constexpr std::int32_t reach = block_px * subpixels;
  const std::int32_t x_min = std::min(std::min(t.x[0], t.x[1]), t.x[2]);
  const std::int32_t x_max = std::max(std::max(t.x[0], t.x[1]), t.x[2]);
  return x_max - x_min <= reach && t.y[2] - t.y[0] <= reach;
}

template <int groups, class Coverage>
void fillRows(Block& block, const BlockPart& part, const Slope& slope, double corner, std::uint32_t id,
              Coverage coverage) {
  const Lanes ours = allLanes(storedId(id));
  std::array<Lanes, groups> along;
  for (int group = 0; group < groups; ++group)
    along[static_cast<std::size_t>(group)] =
        loaded(&slope.along[static_cast<std::size_t>(part.x + group * lane_count)]);
  for (int y = part.begin; y < part.end; ++y, coverage.endRow()) {
    if (!coverage.startRow(y)) continue;
    const std::int32_t row_depth = roundedDepth(corner + slope.per_y * y);
    const auto at = static_cast<std::size_t>(y * block_px + part.x);
    for (int group = 0; group < groups; ++group) {
      std::int32_t* const depths = &block.depths[at + static_cast<std::size_t>(group * lane_count)];
      std::int32_t* const ids = &block.ids[at + static_cast<std::size_t>(group * lane_count)];
      const Lanes depth = sumOf(allLanes(row_depth), along[static_cast<std::size_t>(group)]);
      const Lanes depth_there = loaded(depths);
      const Lanes id_there = loaded(ids);
      // The comparison of ids gives -1 where ours is smaller.
      const Lanes wins = (depth > depth_there + (id_there > ours)) & coverage.covered(group);
      store(chosen(wins, depth, depth_there), depths);
      store(chosen(wins, ours, id_there), ids);
    }
  }
}

// Puts an id and its depths where they are nearer than what the block has, or as near with a smaller id.
// `corner` is slope.atBlock() of the block. One loop for each width, so that none is left to be counted in
// it.
template <class Coverage>
void fillPart(Block& block, const BlockPart& part, const Slope& slope, double corner, std::uint32_t id,
              const Coverage& coverage) {
  switch (part.groups) {
    case 1: return fillRows<1>(block, part, slope, corner, id, coverage);
    case 2: return fillRows<2>(block, part, slope, corner, id, coverage);
#if PETALPROOF_LANES == 4
    case 3: return fillRows<3>(block, part, slope, corner, id, coverage);
    case 4: return fillRows<4>(block, part, slope, corner, id, coverage);
#endif
    default: return;
  }
}

inline std::int32_t farthestIn(const Block& block) {
  constexpr std::size_t groups = block_px / lane_count;
  std::array<Lanes, groups> least;
  for (std::size_t k = 0; k < groups; ++k) least[k] = loaded(&block.depths[k * lane_count]);
  for (std::size_t at = block_px; at < block.depths.size(); at += block_px) {
    for (std::size_t k = 0; k < groups; ++k)
      least[k] = lesser(loaded(&block.depths[at + k * lane_count]), least[k]);
  }
  for (std::size_t k = 1; k < groups; ++k) least[0] = lesser(least[k], least[0]);
  return leastOf(least[0]);
}

}  // namespace petalproof::visibility::PETALPROOF_KERNEL
