#pragma once
// Fills a tile with its triangles, one after the other: the code of a tile kernel.

#include "engine/visibility/internal/kernel/row_fill.h"
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
    if (slope.nearestIn(box) < tile_.farthestAround(box)) return;
    tile_.prepare();
    if (EdgeCoverage::fits(triangle) && !slope.clamped) {
      fillByEdges(box, triangle, slope);
    } else {
      fillBySpans(box, triangle, slope);
    }
  }

 private:
  void fillByEdges(const PixelBox& box, const ScreenTriangle& triangle, const Slope& slope) {
    for (int x = box.x0; x < box.x1; x += block_px) {
      const int end = std::min(x + block_px, box.x1);
      const Window window(x, end, box.y0, box.y1);
      fillWindow(tile_, window, slope, triangle.id, EdgeCoverage(triangle, tile_, window));
      countVisit((x + end) / 2 / block_px, (box.y0 + box.y1) / 2 / block_px, window);
    }
  }

  void fillBySpans(const PixelBox& box, const ScreenTriangle& triangle, const Slope& slope) {
    const TileEdges edges(triangle, tile_.partX0(), tile_.partY0());
    for (int row = box.y0 / block_px; row * block_px < box.y1; ++row) {
      const BlockRowSpans spans(edges, row);
      const BlockRowSpans::Extent extent = spans.extent();
      for (int column = extent.left / block_px; column * block_px < extent.right; ++column) {
        const PixelBox part{std::max(extent.left, column * block_px), std::max(box.y0, row * block_px),
                            std::min(extent.right, (column + 1) * block_px),
                            std::min(box.y1, (row + 1) * block_px)};
        if (slope.nearestIn(part) < tile_.farthest(column, row)) continue;
        const Window window(part.x0, part.x1, part.y0, part.y1);
        if (slope.clamped) {
          fillClamped(triangle, spans, part);
        } else {
          fillWindow(tile_, window, slope, triangle.id, SpanCoverage(spans, row * block_px, window));
        }
        countVisit(column, row, window);
      }
    }
  }

  // Pixel by pixel: only triangles seen nearly edge-on are filled so, which cover few pixels.
  void fillClamped(const ScreenTriangle& triangle, const BlockRowSpans& spans, const PixelBox& part) {
    const std::int32_t id = storedId(triangle.id);
    for (int y = part.y0; y < part.y1; ++y) {
      const auto row = static_cast<std::size_t>(y % block_px);
      for (int x = std::max(spans.from[row], part.x0); x < std::min(spans.to[row], part.x1); ++x) {
        const double plane = triangle.plane.at(tile_.partX0() + x + 0.5, tile_.partY0() + y + 0.5);
        const double held = std::clamp(plane, double{triangle.farthest}, double{triangle.nearest});
        const std::int32_t depth = roundedDepth(std::min(held * tile_.scale(), double{greatest_depth}));
        std::int32_t& depth_there = *tile_.depths(Tile::at(x, y));
        std::int32_t& id_there = *tile_.ids(Tile::at(x, y));
        if (depth > depth_there || (depth == depth_there && id < id_there)) {
          depth_there = depth;
          id_there = id;
        }
      }
    }
  }

  void countVisit(int column, int row, const Window& window) {
    // Finding a block's farthest depth reads its 256 pixels: worth it after several times as many were drawn.
    constexpr int refresh_after_px = 640;
    int& drawn = tile_.drawnSince(column, row);
    drawn += (window.end - window.begin) * window.groups * lane_count;
    if (drawn >= refresh_after_px) tile_.setFarthest(column, row, farthestIn(tile_, column, row));
  }

  Tile& tile_;
};

inline void fillTile(std::span<const Candidate> candidates, Tile& tile) {
  constexpr std::size_t ahead = 8;  // triangles lie scattered in memory: prefetched so many turns ahead
  TileFiller filler(tile);
  for (std::size_t k = 0; k < std::min(ahead, candidates.size()); ++k)
    __builtin_prefetch(candidates[k].triangle);
  for (std::size_t k = 0; k < candidates.size(); ++k) {
    if (k + ahead < candidates.size()) __builtin_prefetch(candidates[k + ahead].triangle);
    if (tile.mayShow(candidates[k].nearest)) filler.fill(*candidates[k].triangle);
  }
}

}  // namespace petalproof::visibility::PETALPROOF_KERNEL
