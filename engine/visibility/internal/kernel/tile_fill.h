#pragma once
// A tile's triangles, one after the other, into its blocks.

#include "engine/visibility/internal/kernel/block_fill.h"
#include "engine/visibility/internal/kernel/slope.h"
#include "engine/visibility/internal/kernel/spans.h"
#include "engine/visibility/internal/tile.h"

#include <algorithm>
#include <cstdint>
#include <span>

namespace petalproof::visibility::PETALPROOF_KERNEL {

// The pixels of a tile, counted from its upper left corner, whose centres lie in the triangle's bounding box.
inline PixelBox boxIn(const Tile& tile, const ScreenTriangle& t) {
  const auto inTile = [](std::int32_t place, int first) {
    return std::clamp(firstCentreFrom(place) - first, 0, tile_px);
  };
  return {inTile(std::min(std::min(t.x[0], t.x[1]), t.x[2]), tile.partX0()), inTile(t.y[0], tile.partY0()),
          inTile(std::max(std::max(t.x[0], t.x[1]), t.x[2]), tile.partX0()), inTile(t.y[2], tile.partY0())};
}

class TileFiller {
 public:
  explicit TileFiller(Tile& tile) : tile_(tile) {}

  void fill(const ScreenTriangle& triangle) {
    const PixelBox box = boxIn(tile_, triangle);
    if (box.empty()) return;
    const Slope slope(triangle, tile_);
    if (isSmall(triangle) && !slope.clamped) {
      fillSmall(box, triangle, slope);
    } else {
      fillBySpans(box, triangle, slope);
    }
  }

 private:
  void fillSmall(const PixelBox& box, const ScreenTriangle& triangle, const Slope& slope) {
    for (int row = box.y0 / block_px; row * block_px < box.y1; ++row) {
      for (int column = box.x0 / block_px; column * block_px < box.x1; ++column) {
        const int k = row * blocks_across + column;
        const double corner = slope.atBlock(column, row);
        if (slope.nearestIn(corner) < tile_.farthest(k)) continue;
        const BlockPart part = partOf(column, row, box.x0, box.x1, box.y0, box.y1);
        const EdgeCoverage coverage(triangle, tile_.partX0() + column * block_px + part.x,
                                    tile_.partY0() + row * block_px + part.begin);
        fillPart(tile_.block(k), part, slope, corner, triangle.id, coverage);
        countVisit(k, part);
      }
    }
  }

  void fillBySpans(const PixelBox& box, const ScreenTriangle& triangle, const Slope& slope) {
    const TileEdges edges(triangle, tile_.partX0(), tile_.partY0());
    for (int row = box.y0 / block_px; row * block_px < box.y1; ++row) {
      const BlockRowSpans spans(edges, row);
      const BlockRowSpans::Extent extent = spans.extent();
      for (int column = extent.left / block_px; column * block_px < extent.right; ++column) {
        const int k = row * blocks_across + column;
        const double corner = slope.atBlock(column, row);
        if (slope.nearestIn(corner) < tile_.farthest(k)) continue;
        const BlockPart part = partOf(column, row, extent.left, extent.right, box.y0, box.y1);
        if (slope.clamped) {
          fillClamped(triangle, spans, column, row);
        } else {
          fillPart(tile_.block(k), part, slope, corner, triangle.id,
                   SpanCoverage(spans, column * block_px, part.x));
        }
        countVisit(k, part);
      }
    }
  }

  // Pixel by pixel: for triangles seen so nearly edge-on that they have hardly any.
  void fillClamped(const ScreenTriangle& triangle, const BlockRowSpans& spans, int column, int row) {
    Block& block = tile_.block(row * blocks_across + column);
    const std::int32_t id = storedId(triangle.id);
    for (int y = spans.begin; y < spans.end; ++y) {
      const int from = std::max(spans.from[static_cast<std::size_t>(y)], column * block_px);
      const int to = std::min(spans.to[static_cast<std::size_t>(y)], (column + 1) * block_px);
      for (int x = from; x < to; ++x) {
        const double plane =
            triangle.plane.at(tile_.partX0() + x + 0.5, tile_.partY0() + row * block_px + y + 0.5);
        const double held = std::clamp(plane, double{triangle.farthest}, double{triangle.nearest});
        const std::int32_t depth = roundedDepth(std::min(held * tile_.scale(), double{greatest_depth}));
        const auto at = static_cast<std::size_t>(y * block_px + x % block_px);
        if (depth > block.depths[at] || (depth == block.depths[at] && id < block.ids[at])) {
          block.depths[at] = depth;
          block.ids[at] = id;
        }
      }
    }
  }

  void countVisit(int k, const BlockPart& part) {
    constexpr int refresh_after_pixels = 640;
    int& pixels = tile_.drawnSince(k);
    pixels += (part.end - part.begin) * part.groups * lane_count;
    if (pixels >= refresh_after_pixels) tile_.setFarthest(k, farthestIn(tile_.block(k)));
  }

  Tile& tile_;
};

inline void fillTile(std::span<const Candidate> candidates, Tile& tile) {
  constexpr std::size_t ahead = 8;  // they lie scattered in memory: asked for in time
  TileFiller filler(tile);
  for (std::size_t k = 0; k < std::min(ahead, candidates.size()); ++k)
    __builtin_prefetch(candidates[k].triangle);
  for (std::size_t k = 0; k < candidates.size(); ++k) {
    if (k + ahead < candidates.size()) __builtin_prefetch(candidates[k + ahead].triangle);
    if (tile.mayShow(candidates[k].nearest)) filler.fill(*candidates[k].triangle);
  }
}

}  // namespace petalproof::visibility::PETALPROOF_KERNEL
