#include "engine/visibility/rasteriser.h"

#include "engine/base/picture_memory.h"
#include "engine/visibility/internal/bins.h"
#include "engine/visibility/internal/clip.h"
#include "engine/visibility/internal/order.h"
#include "engine/visibility/internal/stream.h"
#include "engine/visibility/internal/tile.h"
#include "engine/visibility/internal/tile_kernels.h"

#include <algorithm>
#include <cmath>

namespace petalproof::visibility {

namespace {

constexpr std::size_t shares = 16;  // parts of the geometry that threads set up side by side

// The power of two that brings the nearest depth to greatest_depth at most. Depths more than
// `nearest_to_farthest` times as near as the farthest corner are clamped, so that far ones keep their
// precision.
double depthScale(std::span<const Bins> bins) {
  constexpr double nearest_to_farthest = 4096;
  double nearest = 0;
  double farthest = INFINITY;
  for (const Bins& share : bins) {
    if (share.nearest() <= 0) continue;
    nearest = std::max(nearest, share.nearest());
    farthest = std::min(farthest, share.farthest());
  }
  if (nearest <= 0) return 1;
  return std::exp2(depth_bits - std::ceil(std::log2(std::min(nearest, nearest_to_farthest * farthest))));
}

// All of a tile's triangles, front to back.
void gather(std::span<const Bins> bins, std::size_t tile, std::vector<Candidate>& out) {
  out.clear();
  for (const Bins& share : bins) {
    for (const visibility::BinEntry& entry : share.at(tile)) {
      out.push_back({&share.triangle(entry.triangle), entry.nearest});
    }
  }
}

void copyTile(const FinishedTile& tile, IdBuffer& out) {
  const auto columns = static_cast<std::size_t>(std::min(visibility::tile_px, out.width_px - tile.x0()));
  const int rows = std::min(visibility::tile_px, out.height_px - tile.y0());
  std::array<std::uint32_t, visibility::tile_px> ids;
  std::array<float, visibility::tile_px> depths;
  for (int row = 0; row < rows; ++row) {
    tile.readRow(row, ids.data(), depths.data());
    const std::size_t at =
        static_cast<std::size_t>(tile.y0() + row) * static_cast<std::size_t>(out.width_px) +
        static_cast<std::size_t>(tile.x0());
    visibility::streamCopy(std::span<const std::uint32_t>(ids).first(columns), &out.ids[at]);
    visibility::streamCopy(std::span<const float>(depths).first(columns), &out.inverse_depths[at]);
  }
  visibility::streamDone();
}

}  // namespace

struct Rasteriser::State {
  State(const Pool& given, RasterKernel kernel)
      : pool(given),
        fill(kernel == RasterKernel::fastest ? visibility::tileKernels().back().fill
                                             : visibility::tileKernels().front().fill),
        candidates(given) {}

  const Pool& pool;
  visibility::FillTile fill;
  std::vector<Bins> bins{shares};
  PerThread<std::vector<Candidate>> candidates;

  void drawPart(std::span<const TriangleBatch> batches, const RasterView& view, glm::ivec2 part_px,
                const TileTaker& take);
};

Rasteriser::Rasteriser(const Pool& pool, RasterKernel kernel)
    : state_(std::make_unique<State>(pool, kernel)) {}
Rasteriser::~Rasteriser() = default;
Rasteriser::Rasteriser(Rasteriser&&) noexcept = default;
Rasteriser& Rasteriser::operator=(Rasteriser&&) noexcept = default;

// `view` is a part of the picture, which lies at `part_px` in the whole.
void Rasteriser::State::drawPart(std::span<const TriangleBatch> batches, const RasterView& view,
                                 glm::ivec2 part_px, const TileTaker& take) {
  const std::vector<std::uint32_t> order = visibility::frontToBack(batches, view, pool);
  const std::vector<std::size_t> runs = visibility::evenRuns(batches, order, shares);
  pool.forEach(shares, [&](std::size_t k) {
    const std::size_t from = k + 1 < runs.size() ? runs[k] : order.size();
    const std::size_t to = k + 1 < runs.size() ? runs[k + 1] : order.size();
    bins[k].fill(batches, std::span(order).subspan(from, to - from), view);
  });
  const TileGrid tiles = visibility::tileGridOf(view);
  const double scale = depthScale(bins);
  pool.forEach(tiles.count(), [&](std::size_t k) {
    Tile tile;
    const int index = static_cast<int>(k);
    tile.start(index % tiles.across * visibility::tile_px, index / tiles.across * visibility::tile_px, scale,
               part_px);
    std::vector<Candidate>& mine = candidates.mine();
    gather(bins, k, mine);
    fill(mine, tile);
    take(tile);
  });
}

void Rasteriser::drawTiles(std::span<const TriangleBatch> batches, const RasterView& view,
                           const TileTaker& take) {
  constexpr int side = visibility::largest_side_px;
  for (int y = 0; y < view.height_px; y += side) {
    for (int x = 0; x < view.width_px; x += side) {
      RasterView part = view;
      part.principal_px -= glm::dvec2(x, y);
      part.width_px = std::min(side, view.width_px - x);
      part.height_px = std::min(side, view.height_px - y);
      state_->drawPart(batches, part, {x, y}, take);
    }
  }
}

void Rasteriser::draw(std::span<const TriangleBatch> batches, const RasterView& view, IdBuffer& out) {
  out.width_px = view.width_px;
  out.height_px = view.height_px;
  const std::size_t pixels =
      static_cast<std::size_t>(view.width_px) * static_cast<std::size_t>(view.height_px);
  resizePicture(out.ids, pixels, state_->pool);
  resizePicture(out.inverse_depths, pixels, state_->pool);
  drawTiles(batches, view, [&out](const FinishedTile& tile) { copyTile(tile, out); });
}

}  // namespace petalproof::visibility
