#include "engine/reading/working_picture.h"

#include "engine/base/colour.h"
#include "engine/base/threads.h"
#include "engine/gaps/gaps.h"
#include "engine/reading/internal/pixel_shares.h"
#include "engine/reading/internal/reflection.h"
#include "engine/reading/internal/room.h"
#include "engine/reading/internal/scene_light.h"
#include "engine/reading/internal/slit.h"
#include "engine/reading/internal/triangle_sight.h"

#include <glm/matrix.hpp>

#include <algorithm>
#include <array>
#include <atomic>

namespace petalproof {
namespace {

struct Palette {
  glm::vec3 board;
  glm::vec3 edge;
  glm::vec3 behind;
};

// Where a line of sight meets the board plane and how it goes on.
class BoardRays {
 public:
  explicit BoardRays(const Camera& camera)
      : eye_(camera.position.mm),
        wallFromPixel_(glm::transpose(camera.cameraFromWall) *
                       glm::dmat3({1 / camera.focal_px, 0, 0}, {0, -1 / camera.focal_px, 0},
                                  {-camera.width_px / 2.0 / camera.focal_px,
                                   camera.height_px / 2.0 / camera.focal_px, -1})) {}

  glm::dvec3 towards(glm::vec2 pixel) const { return wallFromPixel_ * glm::dvec3(glm::dvec2(pixel), 1.0); }
  BoardPoint meet(const glm::dvec3& towards) const {
    return {glm::dvec2(eye_) - glm::dvec2(towards) * (eye_.z / towards.z)};
  }
  glm::vec3 eye() const { return glm::vec3(eye_); }

 private:
  glm::dvec3 eye_;
  glm::dmat3 wallFromPixel_;
};

// Everything that colours a place of the shot.
struct Painter {
  const Scene& scene;
  const TriangleSight& triangles;
  const BoardLight& boards;
  BoardRays rays;
  Palette palette;
  glm::vec3 room;

  glm::vec3 boardAt(glm::vec2 place, glm::vec2 otherwise) const {
    const BoardPoint middle = rays.meet(rays.towards(place));
    return boardInLight(
        palette.board,
        boards.at(boards.isLit(boards.tileOf(middle)) ? middle : rays.meet(rays.towards(otherwise))));
  }

  // Through a slit, an empty cell, or past the outline.
  glm::vec3 throughAt(glm::vec2 place) const {
    const glm::dvec3 towards = rays.towards(place);
    if (towards.z < 0) {
      const BoardPoint opening = rays.meet(towards);
      const BehindPlane found = behindPlane(scene.panels, opening, glm::dvec2(towards) / -towards.z);
      if (found.meets != BehindPlane::Meets::open) {
        const glm::vec3& colour = found.meets == BehindPlane::Meets::edge ? palette.edge : palette.behind;
        return found.light * boardInLight(colour, boards.at(opening));
      }
    }
    return roomColour(scene.panels, room, {rays.eye(), glm::vec3(towards)});
  }

  // `otherwise`: a place that does show the board, in case that `place`, the middle of several, doesn't.
  glm::vec3 at(PixelId id, std::uint32_t triangle, glm::vec2 place, glm::vec2 otherwise) const {
    if (id.sees() == Sees::bloom && triangle != 0) return triangles.colour(triangle, place.x, place.y);
    return id.sees() == Sees::board ? boardAt(place, otherwise) : throughAt(place);
  }
};

// What of one working pixel shows one thing; its middle.
struct Part {
  PixelId id;
  std::uint32_t triangle = 0;
  float share = 0;
  float u = 0;  // times share
  float v = 0;
  glm::vec2 last{0};  // one place that does show it
};

// A working pixel on its way; one after the other.
class Mixer {
 public:
  Mixer(const Painter& painter, const PanelGrid& panels) : painter_(painter), panels_(panels) {}

  void add(PixelId id, std::uint32_t triangle, float inverse_depth, float share, float u, float v) {
    const bool bare = isBare(id, panels_);
    (bare ? bare_ : front_) += share;
    if (!bare) inverse_ += share * inverse_depth;
    if (id.sees() == Sees::bloom) bloom_ += share;
    // Panels, and what is seen through slits pixel by pixel, aside, like joins like.
    const bool joins = id.sees() == Sees::bloom || id.sees() == Sees::board || id.sees() == Sees::off;
    for (int k = count_ - 1; joins && k >= 0; --k) {
      Part& part = parts_[static_cast<std::size_t>(k)];
      if (part.triangle != triangle || part.id.sees() != id.sees()) continue;
      part.share += share;
      part.u += share * u;
      part.v += share * v;
      part.last = {u, v};
      return;
    }
    if (count_ == static_cast<int>(parts_.size())) settle();
    parts_[static_cast<std::size_t>(count_++)] = {id, triangle, share, share * u, share * v, {u, v}};
  }

  void write(WorkingPicture& picture, std::size_t at) {
    settle();
    picture.bare_share[at] = static_cast<float>(std::min(bare_, 1.0));
    picture.bloom_share[at] = static_cast<float>(std::min(bloom_, 1.0));
    if (bare_ > 0) picture.bare[at] = bare_light_ / static_cast<float>(bare_);
    if (front_ > 0) picture.front[at] = front_light_ / static_cast<float>(front_);
    if (front_ > 0) picture.front_inverse_mm[at] = inverse_ / static_cast<float>(front_);
    bare_ = bloom_ = front_ = 0;
    inverse_ = 0;
    front_light_ = bare_light_ = glm::vec3(0.0F);
  }

 private:
  void settle() {
    for (int k = 0; k < count_; ++k) {
      const Part& part = parts_[static_cast<std::size_t>(k)];
      const glm::vec2 middle(part.u / part.share, part.v / part.share);
      const glm::vec3 light = painter_.at(part.id, part.triangle, middle, part.last);
      (isBare(part.id, panels_) ? bare_light_ : front_light_) += part.share * light;
    }
    count_ = 0;
  }

  const Painter& painter_;
  const PanelGrid& panels_;
  std::array<Part, 24> parts_;
  int count_ = 0;
  double bare_ = 0;  // of the pixel's area
  double bloom_ = 0;
  double front_ = 0;
  float inverse_ = 0;
  glm::vec3 front_light_{0};
  glm::vec3 bare_light_{0};
};

void paintRow(const Painter& painter, const VisibilityBuffer& seen, const PixelShares& across,
              const PixelShares& down, int y, WorkingPicture& picture) {
  const auto width = static_cast<std::size_t>(picture.size.width_px);
  Mixer mixer(painter, painter.scene.panels);
  for (int x = 0; x < picture.size.width_px; ++x) {
    for (const PixelShares::Share& row : down.of(y)) {
      for (const PixelShares::Share& column : across.of(x)) {
        const std::size_t at = seen.offset(column.pixel, row.pixel);
        mixer.add(seen.ids[at], painter.triangles.row(row.pixel)[column.pixel], seen.inverse_depths[at],
                  column.share * row.share, column.middle, row.middle);
      }
    }
    mixer.write(picture, static_cast<std::size_t>(y) * width + static_cast<std::size_t>(x));
  }
}

// The tiles of the board's light that a shot needs.
std::vector<int> boardTiles(const VisibilityBuffer& seen, const BoardRays& rays, const BoardLight& boards) {
  std::vector<std::uint8_t> needed(static_cast<std::size_t>(boards.tiles()), 0);
  forEach(static_cast<std::size_t>(seen.height_px), [&](std::size_t row) {
    const int y = static_cast<int>(row);
    for (int x = 0; x < seen.width_px; ++x) {
      if (seen.id(x, y).sees() == Sees::bloom) continue;
      // Of its corners, since a part of a pixel has its middle anywhere in it.
      for (int k = 0; k < 4; ++k) {
        const glm::dvec3 towards =
            rays.towards({static_cast<float>(x + k % 2), static_cast<float>(y + k / 2)});
        if (!(towards.z < 0)) continue;
        const int tile = boards.tileOf(rays.meet(towards));
        std::atomic_ref<std::uint8_t>(needed[static_cast<std::size_t>(tile)])
            .store(1, std::memory_order_relaxed);
      }
    }
  });
  std::vector<int> tiles;
  for (int k = 0; k < boards.tiles(); ++k) {
    if (needed[static_cast<std::size_t>(k)] != 0) tiles.push_back(k);
  }
  return tiles;
}

WorkingPicture emptyPicture(const WorkingSize& size) {
  const std::size_t pixels =
      static_cast<std::size_t>(size.width_px) * static_cast<std::size_t>(size.height_px);
  WorkingPicture picture{size, {}, {}, {}, {}, {}};
  // Side by side, since most of it is waiting for memory.
  forEach(5, [&](std::size_t k) {
    if (k == 0) picture.front.resize(pixels);
    if (k == 1) picture.bare.resize(pixels);
    if (k == 2) picture.bare_share.resize(pixels);
    if (k == 3) picture.bloom_share.resize(pixels);
    if (k == 4) picture.front_inverse_mm.resize(pixels);
  });
  return picture;
}

}  // namespace

struct WallPainter::State {
  State(const Scene& planned, int asked)
      : scene(planned), workers(asked), rasteriser(asked), light(planned, asked) {}

  const Scene& scene;
  Workers workers;
  Rasteriser rasteriser;
  SceneLight light;
  TriangleSight triangles;

  void lightUp(const Camera& camera, const VisibilityBuffer& seen, const BoardRays& rays) {
    workers.run([&] {
      triangles.see(scene, camera, light.paper(), rasteriser);
      const SeenPieces pieces{triangles.sides(scene, camera, light.paper()),
                              boardTiles(seen, rays, light.boards())};
      light.lightUp(pieces);
      triangles.light(scene, camera, light.paper(), pieces.sides);
    });
  }
};

WallPainter::WallPainter(const Scene& scene, int threads) : state_(std::make_unique<State>(scene, threads)) {}
WallPainter::~WallPainter() = default;

WorkingPicture WallPainter::paint(const Camera& camera, const VisibilityBuffer& seen, const WorkingSize& size,
                                  const SceneColours& colours) const {
  State& state = *state_;
  const BoardRays rays(camera);
  state.lightUp(camera, seen, rays);
  const Palette palette{linearFromSrgb(colours.board), linearFromSrgb(colours.board_edge),
                        linearFromSrgb(colours.behind)};
  const Painter painter{state.scene, state.triangles, state.light.boards(),
                        rays,        palette,         linearFromSrgb(colours.room)};
  const PixelShares across(seen.width_px, size.width_px);
  const PixelShares down(seen.height_px, size.height_px);
  WorkingPicture picture;
  state.workers.run([&] {
    picture = emptyPicture(size);
    forEach(static_cast<std::size_t>(size.height_px),
            [&](std::size_t y) { paintRow(painter, seen, across, down, static_cast<int>(y), picture); });
  });
  return picture;
}

}  // namespace petalproof
