#pragma once
// A tile of 64 x 64 pixels that a kernel fills with triangles, small enough for the first-level cache.
// Rasteriser starts a tile for each part of the picture.
//
// Depths are integers (inverse depth times a power of two, at most 2^30 before rounding), so that steps
// add up exactly and planes that agree give depths that agree. Each block of 16 x 16 pixels knows (a bound
// of) its farthest depth, so that hidden triangles are skipped.

#include "engine/visibility/internal/screen_triangle.h"

#include <algorithm>
#include <array>
#include <cstdint>

namespace petalproof::visibility {

constexpr int tile_px = FinishedTile::size_px;
constexpr int block_px = 16;
constexpr int blocks_across = tile_px / block_px;

constexpr int depth_bits = 30;  // sums of two rounded terms still fit into 32 bits
constexpr std::int32_t greatest_depth = 1 << depth_bits;

// A triangle in a tile's list, with its greatest inverse depth.
struct Candidate {
  const ScreenTriangle* triangle;
  float nearest;
};

// Ids are stored with their top bit flipped: the machine compares signed numbers.
constexpr std::int32_t storedId(std::uint32_t id) { return static_cast<std::int32_t>(id ^ 0x80000000U); }

class Tile final : public FinishedTile {
 public:
  // Empties the tile. (x0, y0): its upper left pixel, counted from the part of the picture that is drawn,
  // which lies at `part_px` in the whole. `scale`, a power of two, turns 1/mm into depths.
  void start(int x0, int y0, double scale, glm::ivec2 part_px);

  int x0() const override { return part_px_.x + x0_; }
  int y0() const override { return part_px_.y + y0_; }
  bool empty() const override { return empty_; }
  void readRow(int row, std::uint32_t* ids, float* inverse_depths) const override;

  // For the kernel that fills the tile:

  int partX0() const { return x0_; }
  int partY0() const { return y0_; }
  double scale() const { return scale_; }
  // False: nothing of a triangle whose nearest inverse depth is this can show.
  bool mayShow(float nearest) const { return nearest >= hidden_before_; }

  // To be called before anything is drawn into it.
  void prepare() {
    if (empty_) clear();
  }
  static constexpr std::size_t at(int x, int y) {
    return static_cast<std::size_t>(y) * tile_px + static_cast<std::size_t>(x);
  }
  std::int32_t* depths(std::size_t at) { return &depths_[at]; }
  std::int32_t* ids(std::size_t at) { return &ids_[at]; }

  // No pixel of the block is farther.
  std::int32_t farthest(int column, int row) const { return farthest_[blockAt(column, row)]; }
  // No pixel of the blocks that hold part of the box is farther.
  std::int32_t farthestAround(const PixelBox& box) const;
  void setFarthest(int column, int row, std::int32_t depth);
  // How many pixels were drawn into the block since setFarthest().
  int& drawnSince(int column, int row) { return drawn_since_[blockAt(column, row)]; }

 private:
  static constexpr std::size_t blockAt(int column, int row) {
    return static_cast<std::size_t>(row) * blocks_across + static_cast<std::size_t>(column);
  }
  void clear();

  alignas(64) std::array<std::int32_t, std::size_t{tile_px} * tile_px> depths_;
  alignas(64) std::array<std::int32_t, std::size_t{tile_px} * tile_px> ids_;
  std::array<std::int32_t, std::size_t{blocks_across} * blocks_across> farthest_;
  std::array<int, std::size_t{blocks_across} * blocks_across> drawn_since_;
  bool empty_ = true;  // then depths and ids aren't set
  float hidden_before_ = 0;
  double scale_ = 1;
  int x0_ = 0;
  int y0_ = 0;
  glm::ivec2 part_px_{0};
};

inline std::int32_t Tile::farthestAround(const PixelBox& box) const {
  const int left = box.x0 / block_px;
  const int right = (box.x1 - 1) / block_px;
  const int upper = box.y0 / block_px;
  const int lower = (box.y1 - 1) / block_px;
  // Most boxes are small: then these are all.
  std::int32_t least = std::min(std::min(farthest(left, upper), farthest(right, upper)),
                                std::min(farthest(left, lower), farthest(right, lower)));
  if (right - left < 2 && lower - upper < 2) return least;
  for (int row = upper; row <= lower; ++row) {
    for (int column = left; column <= right; ++column) least = std::min(least, farthest(column, row));
  }
  return least;
}

}  // namespace petalproof::visibility
