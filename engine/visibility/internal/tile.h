#pragma once
// A tile of 64 x 64 pixels while it is filled: small enough for the first cache.
//
// Depths are integers (inverse depth times a power of two, at most 2^30 before rounding), so that steps
// add up exactly and planes that agree give depths that agree. Blocks of 16 x 16 pixels lie together; each
// knows (a bound of) its farthest depth, so that what is hidden is turned away block by block.

#include "engine/visibility/internal/setup.h"
#include "engine/visibility/internal/spans.h"
#include "engine/visibility/internal/tile_kernel.h"

#include <array>
#include <cstdint>

namespace petalproof::visibility {

constexpr int blocks_across = tile_px / block_px;
constexpr int blocks_in_tile = blocks_across * blocks_across;

class Tile final : public FinishedTile {
 public:
  // Forgets what it held. (x0, y0): its upper left pixel, counted from the part of the picture that is drawn,
  // which lies at `part_px` in the whole. `scale`, a power of two, turns 1/mm into depths.
  void start(int x0, int y0, double scale, glm::ivec2 part_px);

  // False: nothing of a triangle whose nearest inverse depth is this can show.
  bool mayShow(float nearest) const { return nearest >= hidden_before_; }

  void fill(const ScreenTriangle& triangle);

  int x0() const override { return part_px_.x + x0_; }
  int y0() const override { return part_px_.y + y0_; }
  bool empty() const override { return touched_ == 0; }

  void readRow(int row, std::uint32_t* ids, float* inverse_depths) const override;

 private:
  Block& block(int column, int row) {
    return blocks_[static_cast<std::size_t>(row * blocks_across + column)];
  }
  void fillSmallIn(const PixelBox& box, const ScreenTriangle& triangle, const Slope& slope);
  void fillSpansIn(const PixelBox& box, const ScreenTriangle& triangle, const Slope& slope);
  void fillClamped(const ScreenTriangle& triangle, const BlockRowSpans& spans, int column, int row);
  bool hides(int column, int row, const Slope& slope, double corner);
  void countVisit(int column, int row, const BlockPart& part);
  void touch(int block);
  void refreshFarthest(int block);

  std::array<Block, blocks_in_tile> blocks_;
  std::array<std::int32_t, blocks_in_tile> farthest_;  // no pixel of the block is farther
  std::array<int, blocks_in_tile> quads_since_refresh_;
  std::uint32_t touched_ = 0;  // a bit a block; the others hold nothing yet
  float hidden_before_ = 0;
  double scale_ = 1;
  int x0_ = 0;
  int y0_ = 0;
  glm::ivec2 part_px_{0};
};

}  // namespace petalproof::visibility
