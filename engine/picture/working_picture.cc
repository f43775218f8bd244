#include "engine/picture/working_picture.h"

#include "engine/base/colour.h"
#include "engine/base/picture_memory.h"
#include "engine/base/stopping.h"
#include "engine/gaps/gaps.h"
#include "engine/light/reflection.h"
#include "engine/light/scene_light.h"
#include "engine/light/triangle_sight.h"
#include "engine/light/wide.h"
#include "engine/picture/internal/pixel_shares.h"
#include "engine/picture/internal/room.h"
#include "engine/picture/internal/slit.h"

#include <glm/geometric.hpp>
#include <glm/matrix.hpp>

#include <algorithm>
#include <array>
#include <atomic>
#include <optional>
#include <span>

namespace petalproof::picture {
namespace {

struct Palette {
  glm::vec3 board;
  glm::vec3 edge;
  glm::vec3 behind;
};

// Where a line of sight meets the board plane and how it goes on.
class BoardRays {
 public:
  explicit BoardRays(const camera::Camera& camera)
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
  const scene::Scene& scene;
  const light::TriangleSight& triangles;
  const light::BoardLight& boards;
  BoardRays rays;
  Palette palette;
  glm::vec3 room;
  const visibility::VisibilityBuffer& seen;
  const std::vector<std::uint8_t>& near_paper;  // by tile of the board's light
  std::vector<light::BoardLight::Place>*
      asked;  // takes the places near paper instead of their light; or null

  // `otherwise`: used where the place, the middle of several, lies on a tile that none of them needs.
  light::Arriving lightAt(BoardPoint place, glm::vec2 otherwise) const {
    const int tile = boards.tileOf(place);
    if (near_paper[static_cast<std::size_t>(tile)] == 0) {
      if (asked != nullptr) return {};
      return boards.at(boards.isLit(tile) ? place : rays.meet(rays.towards(otherwise)));
    }
    const light::BoardLight::Place near = light::BoardLight::placeOf(place);
    if (asked == nullptr) return boards.atPlace(near);
    asked->push_back(near);
    return {};
  }

  bool shows(glm::vec2 place, visibility::Sees sees) const {
    return seen.id(std::clamp(static_cast<int>(place.x), 0, seen.width_px - 1),
                   std::clamp(static_cast<int>(place.y), 0, seen.height_px - 1))
               .sees() == sees;
  }

  glm::vec3 boardAt(glm::vec2 place, glm::vec2 otherwise) const {
    const glm::vec2 at = shows(place, visibility::Sees::board) ? place : otherwise;
    return light::boardInLight(palette.board, lightAt(rays.meet(rays.towards(at)), otherwise));
  }

  // Through a slit, an empty cell, or past the outline.
  glm::vec3 throughAt(glm::vec2 place, glm::vec2 otherwise) const {
    const glm::dvec3 towards = rays.towards(place);
    if (towards.z < 0) {
      const BoardPoint opening = rays.meet(towards);
      const BehindPlane found = behindPlane(scene.panels, opening, glm::dvec2(towards) / -towards.z);
      if (found.meets != BehindPlane::Meets::open) {
        const glm::vec3& colour = found.meets == BehindPlane::Meets::edge ? palette.edge : palette.behind;
        return found.light * light::boardInLight(colour, lightAt(opening, otherwise));
      }
    }
    return roomColour(scene.panels, room, {rays.eye(), glm::vec3(towards)});
  }

  // `otherwise`: one of the places seen, in case that `place`, the middle of several, isn't.
  glm::vec3 at(visibility::PixelId id, std::uint32_t triangle, glm::vec2 place, glm::vec2 otherwise) const {
    if (id.sees() == visibility::Sees::bloom && triangle != 0)
      return asked == nullptr ? triangles.colour(triangle, place.x, place.y) : glm::vec3(0.0F);
    return id.sees() == visibility::Sees::board ? boardAt(place, otherwise) : throughAt(place, otherwise);
  }
};

// What of one working pixel shows one thing; its middle.
struct Part {
  visibility::PixelId id;
  std::uint32_t triangle = 0;
  float share = 0;
  float u = 0;  // times share
  float v = 0;
  glm::vec2 last{0};  // one place that does show it
};

// A working pixel on its way; one after the other.
class Mixer {
 public:
  Mixer(const Painter& painter, const scene::PanelGrid& panels) : painter_(painter), panels_(panels) {}

  void add(visibility::PixelId id, std::uint32_t triangle, float inverse_depth, float share, float u,
           float v) {
    const bool bare = gaps::isBare(id, panels_);
    (bare ? bare_ : front_) += share;
    if (!bare) inverse_ += share * inverse_depth;
    if (id.sees() == visibility::Sees::bloom) bloom_ += share;
    // Panels, and what is seen through slits pixel by pixel, aside, like joins like.
    const bool joins = id.sees() == visibility::Sees::bloom || id.sees() == visibility::Sees::board ||
                       id.sees() == visibility::Sees::off;
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
    picture.bare[at] = bare_ > 0 ? bare_light_ / static_cast<float>(bare_) : glm::vec3(0.0F);
    picture.front[at] = front_ > 0 ? front_light_ / static_cast<float>(front_) : glm::vec3(0.0F);
    picture.front_inverse_mm[at] = front_ > 0 ? inverse_ / static_cast<float>(front_) : 0.0F;
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
      (gaps::isBare(part.id, panels_) ? bare_light_ : front_light_) += part.share * light;
    }
    count_ = 0;
  }

  const Painter& painter_;
  const scene::PanelGrid& panels_;
  std::array<Part, 24> parts_;
  int count_ = 0;
  double bare_ = 0;  // of the pixel's area
  double bloom_ = 0;
  double front_ = 0;
  float inverse_ = 0;
  glm::vec3 front_light_{0};
  glm::vec3 bare_light_{0};
};

// Of each pixel of a shot's row: 1 where those of the rows below show the same piece of paper or board.
PETALPROOF_WIDE void findUpright(const light::TriangleSight& triangles,
                                 const visibility::VisibilityBuffer& seen,
                                 std::span<const PixelShares::Share> rows,
                                 std::vector<std::uint8_t>& upright) {
  const auto width = static_cast<std::size_t>(seen.width_px);
  const std::uint32_t* const first = triangles.row(rows.front().pixel);
  const visibility::PixelId* const first_ids = seen.ids.data() + seen.offset(0, rows.front().pixel);
  std::uint8_t* const to = upright.data();
  for (std::size_t x = 0; x < width; ++x) {
    const visibility::Sees sees = first_ids[x].sees();
    const bool joins =
        ((sees == visibility::Sees::bloom) & (first[x] != 0)) | (sees == visibility::Sees::board);
    to[x] = joins ? 1 : 0;
  }
  for (const PixelShares::Share& row : rows.subspan(1)) {
    const std::uint32_t* const shown = triangles.row(row.pixel);
    const visibility::PixelId* const ids = seen.ids.data() + seen.offset(0, row.pixel);
    for (std::size_t x = 0; x < width; ++x) {
      const bool same = (ids[x] == first_ids[x]) & (shown[x] == first[x]);
      to[x] = same ? to[x] : 0;
    }
  }
}

// A working picture's row on its way.
class RowPainter {
 public:
  RowPainter(const Painter& painter, const visibility::VisibilityBuffer& seen, const PixelShares& across,
             std::span<const PixelShares::Share> rows, float middle, WorkingPicture& picture)
      : painter_(painter),
        seen_(seen),
        across_(across),
        rows_(rows),
        middle_(middle),
        picture_(picture),
        mixer_(painter, painter.scene.panels),
        upright_(static_cast<std::size_t>(seen.width_px)) {
    findUpright(painter.triangles, seen, rows, upright_);
  }

  // Whether all of the pixel is paper of one triangle.
  bool isPaper(int x) const { return paperOf(across_.of(x)) != 0; }

  void paint(int x, std::size_t to) {
    const std::span<const PixelShares::Share> columns = across_.of(x);
    if (const std::uint32_t triangle = paperOf(columns); triangle != 0) {
      paintPaper(triangle, across_.middleOf(x), to);
    } else {
      for (const PixelShares::Share& column : columns) add(column);
      mixer_.write(picture_, to);
    }
  }

 private:
  // The paper that all of these show, or 0.
  std::uint32_t paperOf(std::span<const PixelShares::Share> columns) const {
    const std::uint32_t* const shown = painter_.triangles.row(rows_.front().pixel);
    const std::uint32_t first = shown[columns.front().pixel];
    for (const PixelShares::Share& column : columns) {
      if (upright_[static_cast<std::size_t>(column.pixel)] == 0 || shown[column.pixel] != first) return 0;
    }
    return first;
  }

  // Most pixels are paper of one triangle.
  void paintPaper(std::uint32_t triangle, float u, std::size_t to) {
    picture_.front[to] = painter_.triangles.colour(triangle, u, middle_);
    picture_.bare[to] = glm::vec3(0.0F);
    picture_.bare_share[to] = 0;
    picture_.bloom_share[to] = 1;
    picture_.front_inverse_mm[to] = inverseAt(static_cast<int>(u));
  }

  void add(const PixelShares::Share& column) {
    if (upright_[static_cast<std::size_t>(column.pixel)] != 0) {
      const int row = rows_.front().pixel;
      mixer_.add(seen_.id(column.pixel, row), painter_.triangles.row(row)[column.pixel],
                 inverseAt(column.pixel), column.share, column.middle, middle_);
      return;
    }
    for (const PixelShares::Share& row : rows_) {
      const std::size_t at = seen_.offset(column.pixel, row.pixel);
      mixer_.add(seen_.ids[at], painter_.triangles.row(row.pixel)[column.pixel], seen_.inverse_depths[at],
                 column.share * row.share, column.middle, row.middle);
    }
  }

  float inverseAt(int column) const {
    return seen_.inverse_depths[seen_.offset(column, static_cast<int>(middle_))];
  }

  const Painter& painter_;
  const visibility::VisibilityBuffer& seen_;
  const PixelShares& across_;
  std::span<const PixelShares::Share> rows_;
  float middle_;
  WorkingPicture& picture_;
  Mixer mixer_;
  std::vector<std::uint8_t> upright_;
};

void mark(std::vector<std::uint8_t>& needed, int tile) {
  std::atomic_ref<std::uint8_t>(needed[static_cast<std::size_t>(tile)]).store(1, std::memory_order_relaxed);
}

// Marks the tile of the board's light behind each bit of paper that the picture shows, and its eight
// neighbours. A place in every 3 mm is looked at.
std::vector<std::uint8_t> tilesNearPaper(const visibility::VisibilityBuffer& seen, const BoardRays& rays,
                                         const light::BoardLight& boards, const Pool& pool) {
  constexpr double between_mm = 3;
  const auto across = static_cast<float>(seen.width_px);
  const auto down = static_cast<float>(seen.height_px);
  const auto at = [&](float x, float y) { return rays.towards({x, y}); };
  const glm::dvec3 middle = at(across / 2, down / 2);
  const glm::dvec3 beside = at(across / 2 + 1, down / 2);
  const double pixel_mm =
      middle.z < 0 && beside.z < 0 ? glm::distance(rays.meet(middle).mm, rays.meet(beside).mm) : between_mm;
  const int step = std::max(1, static_cast<int>(between_mm / std::max(pixel_mm, 1e-3)));
  std::vector<std::uint8_t> paper(static_cast<std::size_t>(boards.tiles()), 0);
  pool.forEach(static_cast<std::size_t>((seen.height_px + step - 1) / step), [&](std::size_t row) {
    const int y = static_cast<int>(row) * step;
    for (int x = 0; x < seen.width_px; x += step) {
      if (seen.id(x, y).sees() != visibility::Sees::bloom) continue;
      const glm::dvec3 towards = at(static_cast<float>(x) + 0.5F, static_cast<float>(y) + 0.5F);
      if (!(towards.z < 0)) continue;
      mark(paper, boards.tileOf(rays.meet(towards)));
    }
  });
  std::vector<std::uint8_t> near(paper.size(), 0);
  const int columns = boards.columns();
  const int rows = boards.tiles() / columns;
  for (int row = 0; row < rows; ++row)
    for (int column = 0; column < columns; ++column) {
      if (paper[static_cast<std::size_t>(row * columns + column)] == 0) continue;
      for (int r = std::max(0, row - 1); r <= std::min(rows - 1, row + 1); ++r)
        for (int c = std::max(0, column - 1); c <= std::min(columns - 1, column + 1); ++c)
          near[static_cast<std::size_t>(r * columns + c)] = 1;
    }
  return near;
}

// Marks the tiles of the board's light under a stretch of a shot's row, `across` tiles to a row of them: all
// in a rectangle about its corners, since a part of a pixel has its middle anywhere in it. Where the stretch
// looks along the board, past its horizon or nearly so, only those in the middle of its pixels.
void markTiles(const BoardRays& rays, const light::BoardLight& boards, int from, int to, int y,
               std::vector<std::uint8_t>& needed) {
  constexpr int most_tiles = 4096;
  int left = boards.columns();
  int right = -1;
  int low = boards.tiles();
  int high = -1;
  int corners = 0;
  const auto tileAt = [&](float u, float v) {
    const glm::dvec3 towards = rays.towards({u, v});
    return towards.z < 0 ? std::optional(boards.tileOf(rays.meet(towards))) : std::nullopt;
  };
  for (int k = 0; k < 4; ++k) {
    const auto tile = tileAt(static_cast<float>(k % 2 == 0 ? from : to), static_cast<float>(y + k / 2));
    if (!tile) continue;
    ++corners;
    left = std::min(left, *tile % boards.columns());
    right = std::max(right, *tile % boards.columns());
    low = std::min(low, *tile / boards.columns());
    high = std::max(high, *tile / boards.columns());
  }
  if ((corners > 0 && corners < 4) ||
      static_cast<std::int64_t>(right - left + 1) * (high - low + 1) > most_tiles) {
    for (int x = from; x < to; ++x)
      if (const auto tile = tileAt(static_cast<float>(x) + 0.5F, static_cast<float>(y) + 0.5F))
        mark(needed, *tile);
    return;
  }
  for (int row = low; row <= high; ++row)
    for (int column = left; column <= right; ++column) mark(needed, row * boards.columns() + column);
}

// The tiles of the board's light that a shot needs, those near paper left out.
std::vector<int> boardTiles(const visibility::VisibilityBuffer& seen, const BoardRays& rays,
                            const light::BoardLight& boards, const std::vector<std::uint8_t>& near_paper,
                            const Pool& pool, const std::stop_token& stop) {
  constexpr int longest = 16;  // of a stretch
  std::vector<std::uint8_t> needed(static_cast<std::size_t>(boards.tiles()), 0);
  pool.forEach(static_cast<std::size_t>(seen.height_px), [&](std::size_t row) {
    const int y = static_cast<int>(row);
    const auto isPaper = [&](int x) { return seen.id(x, y).sees() == visibility::Sees::bloom; };
    throwIfStopAsked(stop);
    for (int x = 0; x < seen.width_px; ++x) {
      if (isPaper(x)) continue;
      const int from = x;
      while (x < seen.width_px && x - from < longest && !isPaper(x)) ++x;
      markTiles(rays, boards, from, x, y, needed);
      --x;
    }
  });
  std::vector<int> tiles;
  for (int k = 0; k < boards.tiles(); ++k) {
    if (needed[static_cast<std::size_t>(k)] != 0 && near_paper[static_cast<std::size_t>(k)] == 0)
      tiles.push_back(k);
  }
  return tiles;
}

// Whose paper a row's pixels show in their middles.
void findPaper(const scene::PanelGrid& panels, const visibility::VisibilityBuffer& seen,
               const PixelShares& across, int row, int shot_row, WorkingPicture& picture) {
  for (int x = 0; x < picture.size.width_px; ++x) {
    const std::size_t to = picture.offset(x, row);
    const visibility::PixelId id = seen.id(static_cast<int>(across.middleOf(x)), shot_row);
    const bool is_covered = id.sees() == visibility::Sees::board && panels.ground_covered;
    const std::uint32_t paper =
        id.sees() == visibility::Sees::bloom ? id.index() + 1 : (is_covered ? WorkingPicture::covered : 0U);
    picture.paper[to] = picture.bare_share[to] > 0.5F ? 0U : paper;
  }
}

// Keeps no more memory than twice what it needs.
void resize(WorkingPicture& picture, const camera::WorkingSize& size, const Pool& pool) {
  const std::size_t pixels =
      static_cast<std::size_t>(size.width_px) * static_cast<std::size_t>(size.height_px);
  if (picture.front.capacity() > 2 * pixels) picture = {};
  picture.size = size;
  resizePicture(picture.front, pixels, pool);
  resizePicture(picture.bare, pixels, pool);
  resizePicture(picture.bare_share, pixels, pool);
  resizePicture(picture.bloom_share, pixels, pool);
  resizePicture(picture.front_inverse_mm, pixels, pool);
  resizePicture(picture.paper, pixels, pool);
}

}  // namespace

namespace {

// Of a working picture and the shot's own.
struct Pixels {
  const camera::WorkingSize& size;
  const PixelShares& across;
  const PixelShares& down;
};

WorkingPicture onePixel(const Pool& pool) {
  WorkingPicture picture;
  resize(picture, {1, 1, 60}, pool);
  return picture;
}

}  // namespace

struct WallPainter::State {
  explicit State(const Pool& given) : pool(given), rasteriser(given) {}

  const Pool& pool;
  visibility::Rasteriser rasteriser;
  const scene::Scene* scene = nullptr;
  std::optional<light::SceneLight> light;  // of it
  light::TriangleSight triangles;
  WorkingPicture picture;

  // The places near paper of which the picture shows board, or what lies behind it; each once.
  std::vector<light::BoardLight::Place> placesNearPaper(Painter asking, const Pixels& pixels,
                                                        const std::stop_token& stop) {
    std::vector<std::vector<light::BoardLight::Place>> rows(static_cast<std::size_t>(pixels.size.height_px));
    pool.forEach(rows.size(), [&](std::size_t y) {
      throwIfStopAsked(stop);
      Painter painter = asking;
      painter.asked = &rows[y];
      WorkingPicture one = onePixel(pool);
      const int row = static_cast<int>(y);
      RowPainter painting(painter, painter.seen, pixels.across, pixels.down.of(row),
                          pixels.down.middleOf(row), one);
      for (int x = 0; x < pixels.size.width_px; ++x)
        if (!painting.isPaper(x)) painting.paint(x, 0);
    });
    std::vector<light::BoardLight::Place> places;
    for (const auto& row : rows) places.insert(places.end(), row.begin(), row.end());
    std::sort(places.begin(), places.end());
    places.erase(std::unique(places.begin(), places.end()), places.end());
    return places;
  }

  void lightUp(const camera::Camera& camera, const Painter& painter, const Pixels& pixels,
               const std::stop_token& stop) {
    const light::SeenPieces pieces{
        triangles.sides(*scene, camera, light->paper()),
        boardTiles(painter.seen, painter.rays, light->boards(), painter.near_paper, pool, stop),
        placesNearPaper(painter, pixels, stop)};
    light->lightUp(pieces, stop);
    triangles.light(*scene, camera, light->paper(), pieces.sides);
  }
};

WallPainter::WallPainter(const scene::Scene& scene, const Pool& pool, Lighting lighting)
    : state_(std::make_unique<State>(pool)) {
  goOnWith(scene, lighting);
}
WallPainter::~WallPainter() = default;

void WallPainter::goOnWith(const scene::Scene& scene, Lighting lighting) {
  state_->scene = &scene;
  state_->light.emplace(scene, state_->pool, lighting);
}

const WorkingPicture& WallPainter::paint(const camera::Camera& camera,
                                         const visibility::VisibilityBuffer& seen,
                                         const camera::WorkingSize& size, const scene::SceneColours& colours,
                                         const std::stop_token& stop) {
  State& state = *state_;
  const BoardRays rays(camera);
  state.triangles.see(*state.scene, camera, seen, state.rasteriser, state.pool);
  const std::vector<std::uint8_t> near_paper = tilesNearPaper(seen, rays, state.light->boards(), state.pool);
  const Palette palette{linearFromSrgb(colours.board), linearFromSrgb(colours.board_edge),
                        linearFromSrgb(colours.behind)};
  const Painter painter{*state.scene, state.triangles, state.light->boards(),
                        rays,         palette,         linearFromSrgb(colours.room),
                        seen,         near_paper,      nullptr};
  const PixelShares across(seen.width_px, size.width_px);
  const PixelShares down(seen.height_px, size.height_px);
  state.lightUp(camera, painter, {size, across, down}, stop);
  resize(state.picture, size, state.pool);
  state.pool.forEach(static_cast<std::size_t>(size.height_px), [&](std::size_t y) {
    throwIfStopAsked(stop);
    const int row = static_cast<int>(y);
    RowPainter painting(painter, seen, across, down.of(row), down.middleOf(row), state.picture);
    for (int x = 0; x < size.width_px; ++x) painting.paint(x, state.picture.offset(x, row));
    findPaper(state.scene->panels, seen, across, row, static_cast<int>(down.middleOf(row)), state.picture);
  });
  state.triangles.forgetPicture();  // as large as the shot itself, when the reading's planes are yet to come
  return state.picture;
}

}  // namespace petalproof::picture
