#include "engine/visibility/rasteriser.h"

#include "engine/visibility/internal/clip.h"
#include "engine/visibility/internal/setup.h"
#include "engine/visibility/internal/spans.h"

#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>
#include <glm/mat3x3.hpp>

#include <algorithm>
#include <cmath>

namespace petalproof {
using namespace visibility;

namespace {

constexpr int tile_px = 64;

struct Tile {
  std::array<std::uint32_t, tile_px * tile_px> ids{};
  std::array<double, tile_px * tile_px> depths{};
};

void fillRow(Tile& tile, const ScreenTriangle& t, int x0, int y0, int row, std::int64_t from,
             std::int64_t to) {
  const int first = static_cast<int>(std::max<std::int64_t>(from, x0));
  const int last = static_cast<int>(std::min<std::int64_t>(to, x0 + tile_px));
  for (int x = first; x < last; ++x) {
    double depth = t.plane.at(x + 0.5, row + 0.5);
    if (t.clamped) depth = std::clamp(depth, double{t.farthest}, double{t.nearest});
    const auto at = static_cast<std::size_t>((row - y0) * tile_px + x - x0);
    if (depth > tile.depths[at] || (depth == tile.depths[at] && t.id < tile.ids[at])) {
      tile.depths[at] = depth;
      tile.ids[at] = t.id;
    }
  }
}

void fillBetween(Tile& tile, const ScreenTriangle& t, int x0, int y0, int first, int last, EdgeWalk a,
                 EdgeWalk b) {
  for (int row = first; row < last; ++row) {
    fillRow(tile, t, x0, y0, row, std::min(a.pixel(), b.pixel()), std::max(a.pixel(), b.pixel()));
    a.down();
    b.down();
  }
}

void fill(Tile& tile, const ScreenTriangle& t, int x0, int y0) {
  std::array<std::size_t, 3> order{0, 1, 2};
  std::sort(order.begin(), order.end(), [&t](std::size_t i, std::size_t j) { return t.y[i] < t.y[j]; });
  const auto [top, middle, bottom] = order;
  const auto rowFrom = [](std::int32_t y) { return (y + subpixels / 2 - 1) >> 8; };
  const int first = std::max(rowFrom(t.y[top]), y0);
  const int turn = std::clamp(rowFrom(t.y[middle]), y0, y0 + tile_px);
  const int last = std::min(rowFrom(t.y[bottom]), y0 + tile_px);
  const auto edge = [&t](std::size_t i, std::size_t j, int row) {
    return EdgeWalk(t.x[i], t.y[i], t.x[j], t.y[j], row);
  };
  if (first < turn)
    fillBetween(tile, t, x0, y0, first, turn, edge(top, bottom, first), edge(top, middle, first));
  const int lower = std::max(first, turn);
  if (lower < last)
    fillBetween(tile, t, x0, y0, lower, last, edge(top, bottom, lower), edge(middle, bottom, lower));
}

bool isFinite(const glm::dvec3& p) { return std::isfinite(p.x) && std::isfinite(p.y) && std::isfinite(p.z); }

}  // namespace

struct Rasteriser::State {
  tbb::task_arena arena;
  std::vector<glm::dvec3> corners;
  std::vector<ScreenTriangle> triangles;
  std::vector<std::vector<std::uint32_t>> bins;

  void addTriangle(const std::array<glm::dvec3, 3>& p, const RasterView& view, std::uint32_t id);
  void addBatch(const TriangleBatch& batch, const RasterView& view);
  void bin(const RasterView& view);
};

Rasteriser::Rasteriser(int threads) : state_(std::make_unique<State>()) {
  if (threads > 0) state_->arena.initialize(threads);
}
Rasteriser::~Rasteriser() = default;
Rasteriser::Rasteriser(Rasteriser&&) noexcept = default;
Rasteriser& Rasteriser::operator=(Rasteriser&&) noexcept = default;

void Rasteriser::State::addTriangle(const std::array<glm::dvec3, 3>& p, const RasterView& view,
                                    std::uint32_t id) {
  ScreenTriangle triangle;
  const auto corner = [&view](const glm::dvec3& q) { return projected(q, view); };
  if (insideGuard(p[0], view.focal_px) && insideGuard(p[1], view.focal_px) &&
      insideGuard(p[2], view.focal_px)) {
    if (setUp({corner(p[0]), corner(p[1]), corner(p[2])}, view, id, triangle)) triangles.push_back(triangle);
    return;
  }
  const ClippedPolygon polygon = clipToGuard(p, view.focal_px);
  const DepthPlane plane = planeThrough(p, view);
  for (int i = 2; i < polygon.count; ++i) {
    const auto at = [&polygon](int k) { return polygon.corners[static_cast<std::size_t>(k)]; };
    if (setUp({corner(at(0)), corner(at(i - 1)), corner(at(i))}, plane, view, id, triangle)) {
      triangles.push_back(triangle);
    }
  }
}

void Rasteriser::State::addBatch(const TriangleBatch& batch, const RasterView& view) {
  const glm::dmat4x3 world(batch.worldFromBatch);
  corners.clear();
  for (const glm::vec3& v : batch.vertices) {
    const glm::dvec3 at_world = world * glm::dvec4(v, 1.0);
    corners.push_back(view.cameraFromWorld * glm::dvec4(at_world, 1.0));
  }
  std::uint32_t id = batch.id;
  for (const auto& [a, b, c] : batch.triangles) {
    const std::array<glm::dvec3, 3> p{corners[a], corners[b], corners[c]};
    if (isFinite(p[0]) && isFinite(p[1]) && isFinite(p[2])) addTriangle(p, view, id);
    if (batch.id_per_triangle) ++id;
  }
}

void Rasteriser::State::bin(const RasterView& view) {
  const int across = (view.width_px + tile_px - 1) / tile_px;
  const int down = (view.height_px + tile_px - 1) / tile_px;
  for (auto& tile : bins) tile.clear();
  bins.resize(static_cast<std::size_t>(across) * static_cast<std::size_t>(down));
  for (std::size_t k = 0; k < triangles.size(); ++k) {
    const PixelBox box = boxOf(triangles[k], view.width_px, view.height_px);
    for (int y = box.y0 / tile_px; y <= (box.y1 - 1) / tile_px; ++y) {
      for (int x = box.x0 / tile_px; x <= (box.x1 - 1) / tile_px; ++x) {
        bins[static_cast<std::size_t>(y * across + x)].push_back(static_cast<std::uint32_t>(k));
      }
    }
  }
}

void Rasteriser::draw(std::span<const TriangleBatch> batches, const RasterView& view, IdBuffer& out) {
  State& state = *state_;
  out.width_px = view.width_px;
  out.height_px = view.height_px;
  const std::size_t pixels =
      static_cast<std::size_t>(view.width_px) * static_cast<std::size_t>(view.height_px);
  out.ids.resize(pixels);
  out.inverse_depths.resize(pixels);
  state.triangles.clear();
  for (const TriangleBatch& batch : batches) state.addBatch(batch, view);
  state.bin(view);
  const int across = (view.width_px + tile_px - 1) / tile_px;
  state.arena.execute([&] {
    tbb::parallel_for(std::size_t{0}, state.bins.size(), [&](std::size_t k) {
      Tile tile;
      const int x0 = static_cast<int>(k) % across * tile_px;
      const int y0 = static_cast<int>(k) / across * tile_px;
      for (const std::uint32_t t : state.bins[k]) fill(tile, state.triangles[t], x0, y0);
      for (int y = y0; y < std::min(y0 + tile_px, view.height_px); ++y) {
        for (int x = x0; x < std::min(x0 + tile_px, view.width_px); ++x) {
          const auto from = static_cast<std::size_t>((y - y0) * tile_px + x - x0);
          const auto to = static_cast<std::size_t>(y) * static_cast<std::size_t>(view.width_px) +
                          static_cast<std::size_t>(x);
          out.ids[to] = tile.ids[from];
          out.inverse_depths[to] = static_cast<float>(tile.depths[from]);
        }
      }
    });
  });
}

}  // namespace petalproof
