#pragma once
// A tile of 64 x 64 pixels while it is filled: small enough for the first cache.
//
// Depths are integers (inverse depth times a power of two, at most 2^30 before rounding), so that steps
// add up exactly and planes that agree give depths that agree. Blocks of 16 x 16 pixels lie together; each
// knows (a bound of) its farthest depth, so that what is hidden is turned away block by block.

#include "engine/visibility/internal/setup.h"

#include <array>
#include <cstdint>

namespace petalproof::visibility {

constexpr int tile_px = FinishedTile::size_px;
constexpr int block_px = 16;
constexpr int blocks_across = tile_px / block_px;
constexpr int blocks_in_tile = blocks_across * blocks_across;

constexpr std::int32_t greatest_depth = 1 << 30;

// 16 rows of 16 pixels. Ids are stored with their top bit flipped: the machine compares signed numbers.
struct alignas(64) Block {
  std::array<std::int32_t, block_px * block_px> depths;
  std::array<std::int32_t, block_px * block_px> ids;
};
constexpr std::int32_t storedId(std::uint32_t id) { return static_cast<std::int32_t>(id ^ 0x80000000U); }

// A triangle that may show in a tile, if nothing nearer than `nearest` hides it.
struct Candidate {
  const ScreenTriangle* triangle;
  float nearest;
};

class Tile final : public FinishedTile {
 public:
  // Forgets what it held. (x0, y0): its upper left pixel, counted from the part of the picture that is drawn,
  // which lies at `part_px` in the whole. `scale`, a power of two, turns 1/mm into depths.
  void start(int x0, int y0, double scale, glm::ivec2 part_px);

  int x0() const override { return part_px_.x + x0_; }
  int y0() const override { return part_px_.y + y0_; }
  bool empty() const override { return touched_ == 0; }
  void readRow(int row, std::uint32_t* ids, float* inverse_depths) const override;

  // The rest is for the kernel that fills it.

  int partX0() const { return x0_; }
  int partY0() const { return y0_; }
  double scale() const { return scale_; }
  // False: nothing of a triangle whose nearest inverse depth is this can show.
  bool mayShow(float nearest) const { return nearest >= hidden_before_; }
  // No pixel of block k is farther; 0 while it holds nothing.
  std::int32_t farthest(int k) const { return farthest_[static_cast<std::size_t>(k)]; }
  void setFarthest(int k, std::int32_t depth);
  // Block k, ready to be drawn into.
  Block& block(int k) {
    if ((touched_ >> k & 1U) == 0) touch(k);
    return blocks_[static_cast<std::size_t>(k)];
  }
  // How many pixels were drawn into block k since setFarthest().
  int& drawnSince(int k) { return drawn_since_[static_cast<std::size_t>(k)]; }

 private:
  void touch(int k);

  std::array<Block, blocks_in_tile> blocks_;
  std::array<std::int32_t, blocks_in_tile> farthest_;
  std::array<int, blocks_in_tile> drawn_since_;
  std::uint32_t touched_ = 0;  // a bit a block; the others hold nothing yet
  float hidden_before_ = 0;
  double scale_ = 1;
  int x0_ = 0;
  int y0_ = 0;
  glm::ivec2 part_px_{0};
};

}  // namespace petalproof::visibility
