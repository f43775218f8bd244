#include "engine/visibility/internal/tile.h"

#include <algorithm>

namespace petalproof::visibility {

void Tile::start(int x0, int y0, double scale, glm::ivec2 part_px) {
  part_px_ = part_px;
  x0_ = x0;
  y0_ = y0;
  scale_ = scale;
  empty_ = true;
  hidden_before_ = 0;
  farthest_.fill(0);
  drawn_since_.fill(0);
}

void Tile::clear() {
  empty_ = false;
  depths_.fill(0);
  ids_.fill(storedId(0));
}

void Tile::setFarthest(int column, int row, std::int32_t depth) {
  const std::size_t k = blockAt(column, row);
  drawn_since_[k] = 0;
  if (depth <= farthest_[k]) return;
  farthest_[k] = depth;
  const std::int32_t of_tile = *std::min_element(farthest_.begin(), farthest_.end());
  hidden_before_ = static_cast<float>(of_tile / scale_) * (1 - float_margin);
}

void Tile::readRow(int row, std::uint32_t* ids, float* inverse_depths) const {
  if (empty_) {
    std::fill_n(ids, tile_px, 0U);
    std::fill_n(inverse_depths, tile_px, 0.0F);
    return;
  }
  const auto per_step = static_cast<float>(1.0 / scale_);  // exact: a power of two
  const std::size_t first = at(0, row);
  for (std::size_t x = 0; x < tile_px; ++x) {
    ids[x] = static_cast<std::uint32_t>(ids_[first + x]) ^ 0x80000000U;
    inverse_depths[x] = static_cast<float>(depths_[first + x]) * per_step;
  }
}

}  // namespace petalproof::visibility
