#include "engine/visibility/internal/bins.h"

#include "engine/base/picture_memory.h"
#include "engine/visibility/internal/batch_view.h"
#include "engine/visibility/internal/clip.h"
#include "engine/visibility/internal/tile.h"

#include <glm/vec4.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace petalproof::visibility {
namespace {

// Marks a corner that must be clipped away before it can be projected.
constexpr std::int32_t outside_guard = std::numeric_limits<std::int32_t>::min();

}  // namespace

TileGrid tileGridOf(const RasterView& view) {
  return {(view.width_px + tile_px - 1) / tile_px, (view.height_px + tile_px - 1) / tile_px};
}

void Bins::fill(std::span<const TriangleBatch> batches, std::span<const std::uint32_t> order,
                const RasterView& view) {
  triangles_.clear();
  boxes_.clear();
  order_.clear();
  std::size_t triangles = 0;
  for (const std::uint32_t k : order) triangles += batches[k].triangles.size();
  const std::size_t room = triangles + triangles / 8;  // clipping cuts a few into several
  makeRoom(triangles_, room);
  makeRoom(boxes_, room);
  nearest_ = 0;
  farthest_ = std::numeric_limits<double>::infinity();
  for (const std::uint32_t k : order) addBatch(batches[k], view);
  if (triangles_.empty()) farthest_ = 0;
  sortIntoTiles(view);
}

void Bins::addBatch(const TriangleBatch& batch, const RasterView& view) {
  const glm::dmat4x3 transform = cameraFromBatch(batch, view);
  if (isBeside(batch, transform, view)) return;
  corners_.resize(batch.vertices.size());
  for (std::size_t k = 0; k < corners_.size(); ++k) {
    const glm::dvec3 p = transform * glm::dvec4(batch.vertices[k], 1.0);
    if (insideGuard(p, view)) {
      corners_[k] = projected(p, view);
    } else {
      corners_[k].x = outside_guard;
    }
  }
  const std::size_t first = triangles_.size();
  std::uint32_t id = batch.id;
  for (const auto& [a, b, c] : batch.triangles) {
    const std::array<ScreenCorner, 3> triangle{corners_[a], corners_[b], corners_[c]};
    if (triangle[0].x != outside_guard && triangle[1].x != outside_guard && triangle[2].x != outside_guard) {
      add(triangle, nullptr, id, view);
    } else {
      const auto at = [&](std::uint32_t k) { return transform * glm::dvec4(batch.vertices[k], 1.0); };
      addClipped({at(a), at(b), at(c)}, id, view);
    }
    if (batch.id_per_triangle) ++id;
  }
  orderFrom(first);
}

// Orders a batch's triangles roughly front to back: a counting sort into a few layers of depth.
void Bins::orderFrom(std::size_t first) {
  constexpr std::size_t layers = 32;
  if (first == boxes_.size()) return;
  const std::span<const TriangleBox> boxes = std::span(boxes_).subspan(first);
  const auto [least, greatest] = std::minmax_element(
      boxes.begin(), boxes.end(), [](const auto& a, const auto& b) { return a.nearest < b.nearest; });
  const float per_layer = (greatest->nearest - least->nearest) / layers;
  const float nearest = greatest->nearest;
  const float to_layer = per_layer > 0 ? 1 / per_layer : 0;
  const auto layerOf = [&](const TriangleBox& box) {
    return std::min(static_cast<std::size_t>((nearest - box.nearest) * to_layer), layers - 1);
  };
  std::array<std::size_t, layers + 1> starts{};
  for (const TriangleBox& box : boxes) ++starts[layerOf(box) + 1];
  for (std::size_t k = 1; k < starts.size(); ++k) starts[k] += starts[k - 1];
  order_.resize(boxes_.size());
  for (std::size_t k = 0; k < boxes.size(); ++k) {
    order_[first + starts[layerOf(boxes[k])]++] = static_cast<std::uint32_t>(first + k);
  }
}

void Bins::addClipped(const std::array<glm::dvec3, 3>& p, std::uint32_t id, const RasterView& view) {
  if (!isFinite(p[0]) || !isFinite(p[1]) || !isFinite(p[2])) return;
  const ClippedPolygon polygon = clipToGuard(p, view);
  if (polygon.count < 3) return;
  const DepthPlane plane = planeThrough(p, view);
  const double nearest = nearest_;
  for (std::size_t k = 2; k < static_cast<std::size_t>(polygon.count); ++k) {
    add({projected(polygon.corners[0], view), projected(polygon.corners[k - 1], view),
         projected(polygon.corners[k], view)},
        &plane, id, view);
  }
  // A triangle that comes close to the camera counts only as far as it is in the picture.
  nearest_ = std::max(nearest, 1.0 / nearestInPicture(p, view));
}

void Bins::add(const std::array<ScreenCorner, 3>& corners, const DepthPlane* plane, std::uint32_t id,
               const RasterView& view) {
  const PixelBox box = boxOf(corners, view.width_px, view.height_px);
  if (box.empty()) return;
  ScreenTriangle& triangle = triangles_.emplace_back();
  if (!setUp(corners, plane != nullptr ? *plane : planeThrough(corners), id, triangle)) {
    triangles_.pop_back();
    return;
  }
  const auto tile = [](int px) { return static_cast<std::uint16_t>(px / tile_px); };
  boxes_.push_back({tile(box.x0), tile(box.y0), tile(box.x1 - 1), tile(box.y1 - 1), triangle.nearest});
  nearest_ = std::max(nearest_, double{triangle.nearest});
  farthest_ = std::min(farthest_, double{triangle.farthest});
}

// A counting sort.
void Bins::sortIntoTiles(const RasterView& view) {
  const TileGrid tiles = tileGridOf(view);
  starts_.assign(tiles.count() + 2, 0);
  const auto eachTile = [&tiles](const TriangleBox& box, const auto& visit) {
    for (int y = box.y0; y <= box.y1; ++y) {
      for (int x = box.x0; x <= box.x1; ++x) visit(static_cast<std::size_t>(y * tiles.across + x));
    }
  };
  for (const TriangleBox& box : boxes_) eachTile(box, [this](std::size_t tile) { ++starts_[tile + 2]; });
  for (std::size_t k = 2; k < starts_.size(); ++k) starts_[k] += starts_[k - 1];
  makeRoom(entries_, starts_.back());
  entries_.resize(starts_.back());
  for (const std::uint32_t k : order_) {
    const BinEntry entry{k, boxes_[k].nearest};
    eachTile(boxes_[k], [&](std::size_t tile) { entries_[starts_[tile + 1]++] = entry; });
  }
}

}  // namespace petalproof::visibility
