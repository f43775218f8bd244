#include "engine/visibility/internal/tile.h"

#include <algorithm>
#include <cstring>

namespace petalproof::visibility {
namespace {

constexpr int refresh_after_quads = 160;

struct EmptyBlock {
  alignas(Block) std::array<std::int32_t, block_px * block_px> depths{};
  std::array<std::int32_t, block_px * block_px> ids{};
  constexpr EmptyBlock() {
    for (std::int32_t& id : ids) id = storedId(0);
  }
};
constexpr EmptyBlock empty_block;
static_assert(sizeof(EmptyBlock) == sizeof(Block));

std::int32_t farthestIn(const std::array<Lanes, block_px * lanes_in_row>& depths) {
  std::array<Lanes, lanes_in_row> least;
  for (std::size_t quad = 0; quad < lanes_in_row; ++quad) least[quad] = depths[quad];
  for (std::size_t k = lanes_in_row; k < depths.size(); k += lanes_in_row) {
    for (std::size_t quad = 0; quad < lanes_in_row; ++quad)
      least[quad] = lesser(depths[k + quad], least[quad]);
  }
  return leastOf(lesser(lesser(least[0], least[1]), lesser(least[2], least[3])));
}

}  // namespace

void Tile::start(int x0, int y0, double scale, glm::ivec2 part_px) {
  part_px_ = part_px;
  x0_ = x0;
  y0_ = y0;
  scale_ = scale;
  touched_ = 0;
  hidden_before_ = 0;
}

void Tile::touch(int block) {
  const auto b = static_cast<std::size_t>(block);
  touched_ |= 1U << block;
  farthest_[b] = 0;
  quads_since_refresh_[b] = 0;
  std::memcpy(&blocks_[b], &empty_block, sizeof(Block));
}

void Tile::refreshFarthest(int block) {
  const auto b = static_cast<std::size_t>(block);
  quads_since_refresh_[b] = 0;
  const std::int32_t farthest = farthestIn(blocks_[b].depths);
  if (farthest <= farthest_[b]) return;
  farthest_[b] = farthest;
  if (touched_ != (1U << blocks_in_tile) - 1) return;
  const std::int32_t of_tile = *std::min_element(farthest_.begin(), farthest_.end());
  hidden_before_ = static_cast<float>(of_tile / scale_) * (1 - 0x1p-22F);
}

void Tile::fill(const ScreenTriangle& triangle) {
  const PixelBox box = boxOf(triangle, x0_, y0_);
  if (box.empty()) return;
  const Slope slope(triangle, x0_, y0_, scale_);
  if (isSmall(triangle) && !slope.clamped) {
    fillSmallIn(box, triangle, slope);
  } else {
    fillSpansIn(box, triangle, slope);
  }
}

void Tile::fillSmallIn(const PixelBox& box, const ScreenTriangle& triangle, const Slope& slope) {
  for (int row = box.y0 / block_px; row * block_px < box.y1; ++row) {
    for (int column = box.x0 / block_px; column * block_px < box.x1; ++column) {
      const double corner = slope.atBlock(column, row);
      if (hides(column, row, slope, corner)) continue;
      const BlockPart part = partOf(column, row, box.x0, box.x1, box.y0, box.y1);
      fillSmall(block(column, row), part, slope, corner, triangle, x0_ + column * block_px,
                y0_ + row * block_px);
      countVisit(column, row, part);
    }
  }
}

void Tile::fillSpansIn(const PixelBox& box, const ScreenTriangle& triangle, const Slope& slope) {
  const TileEdges edges(triangle, x0_, y0_);
  for (int row = box.y0 / block_px; row * block_px < box.y1; ++row) {
    const BlockRowSpans spans(edges, row);
    const BlockRowSpans::Extent extent = spans.extent();
    for (int column = extent.left / block_px; column * block_px < extent.right; ++column) {
      const double corner = slope.atBlock(column, row);
      if (hides(column, row, slope, corner)) continue;
      const BlockPart part = partOf(column, row, extent.left, extent.right, box.y0, box.y1);
      if (slope.clamped) {
        fillClamped(triangle, spans, column, row);
      } else {
        fillSpans(block(column, row), part, slope, corner, triangle.id, spans, column * block_px);
      }
      countVisit(column, row, part);
    }
  }
}

// True if nothing of the triangle can show in the block; else the block is ready to be filled.
bool Tile::hides(int column, int row, const Slope& slope, double corner) {
  const int k = row * blocks_across + column;
  if ((touched_ >> k & 1U) == 0) touch(k);
  return slope.nearestIn(corner) < farthest_[static_cast<std::size_t>(k)];
}

void Tile::countVisit(int column, int row, const BlockPart& part) {
  const int k = row * blocks_across + column;
  int& quads = quads_since_refresh_[static_cast<std::size_t>(k)];
  quads += (part.end - part.begin) * part.quads();
  if (quads >= refresh_after_quads) refreshFarthest(k);
}

// Pixel by pixel: for triangles seen so nearly edge-on that they have hardly any.
void Tile::fillClamped(const ScreenTriangle& triangle, const BlockRowSpans& spans, int column, int row) {
  Block& into = block(column, row);
  const std::int32_t id = storedId(triangle.id);
  for (int y = spans.begin; y < spans.end; ++y) {
    const int from = std::max(spans.from[static_cast<std::size_t>(y)], column * block_px);
    const int to = std::min(spans.to[static_cast<std::size_t>(y)], (column + 1) * block_px);
    for (int x = from; x < to; ++x) {
      const double plane = triangle.plane.at(x0_ + x + 0.5, y0_ + row * block_px + y + 0.5);
      const double held = std::clamp(plane, double{triangle.farthest}, double{triangle.nearest});
      const std::int32_t depth = roundedDepth(std::min(held * scale_, double{greatest_depth}));
      const int at = y * block_px + x % block_px;
      Lanes& depths = into.depths[static_cast<std::size_t>(at / lane_count)];
      Lanes& ids = into.ids[static_cast<std::size_t>(at / lane_count)];
      const int lane = at % lane_count;
      if (depth > depths[lane] || (depth == depths[lane] && id < ids[lane])) {
        depths[lane] = depth;
        ids[lane] = id;
      }
    }
  }
}

void Tile::readRow(int row, std::uint32_t* ids, float* inverse_depths) const {
  const auto millimetres = static_cast<float>(1.0 / scale_);  // exact: a power of two
  for (int column = 0; column < blocks_across; ++column) {
    const int block = row / block_px * blocks_across + column;
    std::uint32_t* const to_ids = ids + column * block_px;
    float* const to_depths = inverse_depths + column * block_px;
    if ((touched_ >> block & 1U) == 0) {
      std::fill_n(to_ids, block_px, 0U);
      std::fill_n(to_depths, block_px, 0.0F);
      continue;
    }
    const Block& from = blocks_[static_cast<std::size_t>(block)];
    for (int quad = 0; quad < lanes_in_row; ++quad) {
      const auto k = static_cast<std::size_t>(row % block_px * lanes_in_row + quad);
      store(from.ids[k] ^ allLanes(storedId(0)), to_ids + quad * lane_count);
      store(__builtin_convertvector(from.depths[k], FloatLanes) * millimetres, to_depths + quad * lane_count);
    }
  }
}

}  // namespace petalproof::visibility
