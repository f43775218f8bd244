#include "engine/visibility/internal/tile.h"

#include <algorithm>
#include <bit>
#include <cstring>

namespace petalproof::visibility {
namespace {

constexpr std::uint32_t top_bit = 0x80000000U;
constexpr int lanes_in_row = block_px / lane_count;
constexpr int refresh_after_quads = 160;

constexpr std::int32_t flipped(std::uint32_t id) { return std::bit_cast<std::int32_t>(id ^ top_bit); }

// Added to a number below 2^51 it leaves the nearest integer, modulo 2^32, in the lowest bits.
constexpr double to_integer = 0x1.8p52;

std::int32_t rounded(double value) {
  return static_cast<std::int32_t>(std::bit_cast<std::int64_t>(value + to_integer) & 0xffffffff);
}

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

struct EmptyBlock {
  alignas(Block) std::array<std::int32_t, block_px * block_px> depths{};
  std::array<std::int32_t, block_px * block_px> ids{};
  constexpr EmptyBlock() {
    for (std::int32_t& id : ids) id = flipped(0);
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

// A triangle's depths within a tile: at pixel (x, y) of a block whose corner has depth d, that is
// rounded(d + y * per_y) + along[x]. Depends on nothing but the plane and the place.
struct Tile::Slope {
  double corner = 0;  // at the centre of the tile's first pixel
  double per_x = 0;
  double per_y = 0;
  double nearest = 0;  // no pixel is nearer
  bool clamped = false;
  std::array<Lanes, lanes_in_row> along;

  Slope(const ScreenTriangle& t, int x0, int y0, double scale)
      : corner(t.plane.at(x0 + 0.5, y0 + 0.5) * scale),
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
  double atBlock(int column, int row) const {
    return corner + (per_x * (column * block_px) + per_y * (row * block_px));
  }
  // No pixel of the block is nearer.
  double nearestIn(double at_block) const {
    const double reach = std::max(0.0, per_x * block_px) + std::max(0.0, per_y * block_px);
    return (clamped ? nearest : std::min(nearest, at_block + reach)) + 2;
  }
};

// The rows of a block that a triangle may cover, in `quads` columns of lanes from `first_quad` on.
struct Tile::RowFill {
  Block& block;
  const Slope& slope;
  const BlockRowSpans& spans;
  double corner;
  std::int32_t id;
  int block_x;
  int first_quad;

  template <int quads>
  void fill() const;
};

template <int quads>
void Tile::RowFill::fill() const {
  const Lanes ours = allLanes(id);
  for (int y = spans.begin; y < spans.end; ++y) {
    const int from = std::clamp(spans.from[static_cast<std::size_t>(y)] - block_x, 0, block_px);
    const int to = std::clamp(spans.to[static_cast<std::size_t>(y)] - block_x, 0, block_px);
    if (from >= to) continue;
    const Lanes row_depth = allLanes(rounded(corner + slope.per_y * y));
    const auto at = static_cast<std::size_t>(y * lanes_in_row + first_quad);
    Lanes* const depths = &block.depths[at];
    Lanes* const ids = &block.ids[at];
    for (int quad = 0; quad < quads; ++quad) {
      const Lanes depth = row_depth + slope.along[static_cast<std::size_t>(first_quad + quad)];
      // Nearer, or as near with a smaller id: the comparison of ids gives -1 where ours is smaller.
      const Lanes wins =
          (depth > depths[quad] + (ids[quad] > ours)) & row_masks.at(from, to, first_quad + quad);
      depths[quad] = chosen(wins, depth, depths[quad]);
      ids[quad] = chosen(wins, ours, ids[quad]);
    }
  }
}

// One loop for each width, so that none is left to be counted in it.
void Tile::fillQuads(const RowFill& rows, int quads) {
  static_assert(lanes_in_row == 4);
  switch (quads) {
    case 1: return rows.fill<1>();
    case 2: return rows.fill<2>();
    case 3: return rows.fill<3>();
    default: return rows.fill<4>();
  }
}

void Tile::start(int x0, int y0, double scale) {
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
  const TileEdges edges(triangle, x0_, y0_);
  if (edges.first >= edges.last || edges.left >= edges.right) return;
  const Slope slope(triangle, x0_, y0_, scale_);
  // Small triangles go by their bounding box, which is known long before their spans are.
  const bool small = edges.right - edges.left <= block_px;
  for (int row = edges.first / block_px; row <= (edges.last - 1) / block_px; ++row) {
    const BlockRowSpans spans(edges, row);
    const BlockRowSpans::Extent extent =
        small ? BlockRowSpans::Extent{edges.left, edges.right} : spans.extent();
    for (int column = extent.left / block_px; column * block_px < extent.right; ++column) {
      fillBlock(triangle, slope, spans, extent, column, row);
    }
  }
}

void Tile::fillBlock(const ScreenTriangle& triangle, const Slope& slope, const BlockRowSpans& spans,
                     BlockRowSpans::Extent extent, int column, int row) {
  const int block = row * blocks_across + column;
  const auto b = static_cast<std::size_t>(block);
  const double corner = slope.atBlock(column, row);
  if ((touched_ >> block & 1U) == 0) touch(block);
  if (slope.nearestIn(corner) < farthest_[b]) return;
  if (slope.clamped) {
    fillClamped(triangle, spans, column, row);
    return;
  }
  const int first_quad = std::max(extent.left - column * block_px, 0) / lane_count;
  const int last_quad = std::min(extent.right - column * block_px - 1, block_px - 1) / lane_count;
  const RowFill fill{blocks_[b], slope, spans, corner, flipped(triangle.id), column * block_px, first_quad};
  fillQuads(fill, last_quad - first_quad + 1);
  quads_since_refresh_[b] += (spans.end - spans.begin) * (last_quad - first_quad + 1);
  if (quads_since_refresh_[b] >= refresh_after_quads) refreshFarthest(block);
}

// Pixel by pixel: for triangles seen so nearly edge-on that they have hardly any.
void Tile::fillClamped(const ScreenTriangle& triangle, const BlockRowSpans& spans, int column, int row) {
  Block& block = blocks_[static_cast<std::size_t>(row * blocks_across + column)];
  const std::int32_t id = flipped(triangle.id);
  for (int y = spans.begin; y < spans.end; ++y) {
    const int from = std::max(spans.from[static_cast<std::size_t>(y)], column * block_px);
    const int to = std::min(spans.to[static_cast<std::size_t>(y)], (column + 1) * block_px);
    for (int x = from; x < to; ++x) {
      const double plane = triangle.plane.at(x0_ + x + 0.5, y0_ + row * block_px + y + 0.5);
      const double held = std::clamp(plane, double{triangle.farthest}, double{triangle.nearest});
      const std::int32_t depth = rounded(std::min(held * scale_, double{greatest_depth}));
      const int at = y * block_px + x % block_px;
      Lanes& depths = block.depths[static_cast<std::size_t>(at / lane_count)];
      Lanes& ids = block.ids[static_cast<std::size_t>(at / lane_count)];
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
      store(from.ids[k] ^ allLanes(flipped(0)), to_ids + quad * lane_count);
      store(__builtin_convertvector(from.depths[k], FloatLanes) * millimetres, to_depths + quad * lane_count);
    }
  }
}

}  // namespace petalproof::visibility
