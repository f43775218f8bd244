#pragma once
// Turns a share of the picture's batches into triangles and sorts them into tiles. Rasteriser fills several
// shares side by side.

#include "engine/visibility/internal/setup.h"

#include <cstdint>
#include <span>
#include <vector>

namespace petalproof::visibility {

// A triangle in a tile's list; its greatest inverse depth is stored beside it, so that a hidden triangle
// isn't read.
struct BinEntry {
  std::uint32_t triangle = 0;
  float nearest = 0;
};

// Tiles are counted row by row.
struct TileGrid {
  int across = 0;
  int down = 0;
  std::size_t count() const { return static_cast<std::size_t>(across) * static_cast<std::size_t>(down); }
};
TileGrid tileGridOf(const RasterView& view);

// Keeps its memory from picture to picture.
class Bins {
 public:
  // Replaces its contents by batches[k] for each k of `order`, in that order.
  void fill(std::span<const TriangleBatch> batches, std::span<const std::uint32_t> order,
            const RasterView& view);

  std::span<const BinEntry> at(std::size_t tile) const {
    return {entries_.data() + starts_[tile], entries_.data() + starts_[tile + 1]};
  }
  const ScreenTriangle& triangle(std::uint32_t k) const { return triangles_[k]; }

  // Greatest and least inverse depth of the triangles that may be in the picture; 0 if there are none.
  double nearest() const { return nearest_; }
  double farthest() const { return farthest_; }

 private:
  void addBatch(const TriangleBatch& batch, const RasterView& view);
  void addClipped(const std::array<glm::dvec3, 3>& camera_mm, std::uint32_t id, const RasterView& view);
  void add(const std::array<ScreenCorner, 3>& corners, const DepthPlane* plane, std::uint32_t id,
           const RasterView& view);
  void orderFrom(std::size_t first);
  void sortIntoTiles(const RasterView& view);

  // Tiles [x0, x1] x [y0, y1] that a triangle may touch, and its greatest inverse depth.
  struct TriangleBox {
    std::uint16_t x0, y0, x1, y1;
    float nearest;
  };

  std::vector<ScreenCorner> corners_;  // of one batch
  std::vector<ScreenTriangle> triangles_;
  std::vector<TriangleBox> boxes_;    // of each triangle
  std::vector<std::uint32_t> order_;  // of the triangles, front to back
  std::vector<BinEntry> entries_;
  std::vector<std::uint32_t> starts_;
  double nearest_ = 0;
  double farthest_ = 0;
};

}  // namespace petalproof::visibility
