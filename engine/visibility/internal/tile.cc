#include "engine/visibility/internal/tile.h"

#include <algorithm>
#include <cstring>

namespace petalproof::visibility {
namespace {

struct EmptyBlock {
  alignas(Block) std::array<std::int32_t, block_px * block_px> depths{};
  std::array<std::int32_t, block_px * block_px> ids{};
  constexpr EmptyBlock() {
    for (std::int32_t& id : ids) id = storedId(0);
  }
};
constexpr EmptyBlock empty_block;
static_assert(sizeof(EmptyBlock) == sizeof(Block));

}  // namespace

void Tile::start(int x0, int y0, double scale, glm::ivec2 part_px) {
  part_px_ = part_px;
  x0_ = x0;
  y0_ = y0;
  scale_ = scale;
  touched_ = 0;
  hidden_before_ = 0;
  farthest_.fill(0);
}

void Tile::touch(int k) {
  touched_ |= 1U << k;
  drawn_since_[static_cast<std::size_t>(k)] = 0;
  std::memcpy(&blocks_[static_cast<std::size_t>(k)], &empty_block, sizeof(Block));
}

void Tile::setFarthest(int k, std::int32_t depth) {
  const auto b = static_cast<std::size_t>(k);
  drawn_since_[b] = 0;
  if (depth <= farthest_[b]) return;
  farthest_[b] = depth;
  const std::int32_t of_tile = *std::min_element(farthest_.begin(), farthest_.end());
  hidden_before_ = static_cast<float>(of_tile / scale_) * (1 - 0x1p-22F);
}

void Tile::readRow(int row, std::uint32_t* ids, float* inverse_depths) const {
  const auto millimetres = static_cast<float>(1.0 / scale_);  // exact: a power of two
  for (int column = 0; column < blocks_across; ++column) {
    const int k = row / block_px * blocks_across + column;
    std::uint32_t* const to_ids = ids + column * block_px;
    float* const to_depths = inverse_depths + column * block_px;
    if ((touched_ >> k & 1U) == 0) {
      std::fill_n(to_ids, block_px, 0U);
      std::fill_n(to_depths, block_px, 0.0F);
      continue;
    }
    const Block& from = blocks_[static_cast<std::size_t>(k)];
    const std::size_t first = static_cast<std::size_t>(row % block_px) * block_px;
    for (std::size_t x = 0; x < block_px; ++x) {
      to_ids[x] = static_cast<std::uint32_t>(from.ids[first + x]) ^ 0x80000000U;
      to_depths[x] = static_cast<float>(from.depths[first + x]) * millimetres;
    }
  }
}

}  // namespace petalproof::visibility
