#include "engine/light/scene_light.h"

#include "engine/base/stopping.h"
#include "engine/light/light_scale.h"
#include "engine/light/triangle_sight.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace petalproof::light {
namespace {

// Lengths at scale 1 (light_scale.h). Most walls are one square or two.
constexpr double usual_square_mm = 3000;
constexpr double usual_beside_mm =
    400;  // of a square: what belongs to it may hang over its edge by this much
constexpr double usual_pixel_mm = 2.5;
constexpr double usual_distance_mm = 1e5;  // far enough to look all the same way
// Places lit at a time, which need up to 200 bytes each while they are.
constexpr std::size_t most_spots = 4'000'000;

int squaresAlong(double side_mm, double square_mm) {
  return std::max(1, static_cast<int>(std::ceil(side_mm / square_mm)));
}

int squareAlong(double mm, double square_mm, int count) {
  return std::clamp(static_cast<int>(mm / square_mm), 0, count - 1);
}

// Where people stand: in front, and to all sides.
std::vector<glm::dvec3> waysToLook() {
  std::vector<glm::dvec3> ways{{0, 0, 1}};
  for (const auto& [x, y] : std::array<std::array<double, 2>, 4>{{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}}) {
    ways.push_back(glm::normalize(glm::dvec3(0.55 * x, 0.4 * y, 1)));
  }
  return ways;
}

// From far along `way` a piece of the wall.
visibility::RasterView farView(const glm::dvec3& way, const BoardRect& piece, double scale) {
  const double pixel_mm = usual_pixel_mm * scale;
  const double distance_mm = usual_distance_mm * scale;
  const glm::dvec3 right = glm::normalize(glm::cross(glm::dvec3(0, 1, 0), way));
  const glm::dvec3 up = glm::cross(way, right);
  const glm::dvec2 middle = (piece.min_mm + piece.max_mm) / 2.0;
  const glm::dvec2 half = (piece.max_mm - piece.min_mm) / 2.0;
  const glm::dvec3 eye = glm::dvec3(middle, 0.0) + distance_mm * way;
  const glm::dmat3 axes = glm::transpose(glm::dmat3(right, up, way));
  visibility::RasterView view;
  view.cameraFromWorld = glm::dmat4x3(axes[0], axes[1], axes[2], -(axes * eye));
  view.focal_px = distance_mm / pixel_mm;
  const double across = std::abs(right.x) * half.x + std::abs(right.y) * half.y;
  const double down = std::abs(up.x) * half.x + std::abs(up.y) * half.y;
  view.width_px = static_cast<int>(std::ceil(2 * across / pixel_mm));
  view.height_px = static_cast<int>(std::ceil(2 * down / pixel_mm));
  view.principal_px = {view.width_px / 2.0, view.height_px / 2.0};
  return view;
}

}  // namespace

SceneLight::SceneLight(const scene::Scene& scene, const Pool& pool, Lighting lighting)
    : scene_(scene),
      lighting_(lighting),
      scale_(lightScale(scene)),
      light_(scene, pool),
      paper_(scene),
      boards_(scene.panels, scale_),
      pool_(pool),
      rasteriser_(pool),
      across_(squaresAlong(scene.panels.width_mm(), usual_square_mm * scale_)),
      down_(squaresAlong(scene.panels.height_mm(), usual_square_mm * scale_)),
      lit_(static_cast<std::size_t>(across_) * static_cast<std::size_t>(down_), 0) {}

std::size_t SceneLight::squareOf(glm::dvec2 place) const {
  const double square_mm = usual_square_mm * scale_;
  return static_cast<std::size_t>(squareAlong(place.y, square_mm, down_) * across_ +
                                  squareAlong(place.x, square_mm, across_));
}

std::vector<std::uint8_t> SceneLight::dueSquares(const SeenPieces& seen) const {
  std::vector<std::uint8_t> due(lit_.size(), 0);
  for (const PaperSide& side : seen.sides) due[squareOf(scene_.blooms[side.bloom].at_mm)] = 1;
  for (std::size_t k = 0; k < due.size(); ++k) due[k] = due[k] != 0 && lit_[k] == 0 ? 1 : 0;
  return due;
}

// What a picture from far along `way` shows, added: one byte a triangle's side.
void SceneLight::addSeen(const glm::dvec3& way, const visibility::IdBuffer& seen, Marks& marks) const {
  std::vector<std::uint8_t> shows(paper_.triangles() + 1, 0);
  for (int y = 0; y < seen.height_px; ++y)
    for (int x = 0; x < seen.width_px; ++x) shows[seen.id(x, y)] = 1;
  for (std::uint32_t bloom = 0; bloom < scene_.blooms.size(); ++bloom) {
    const scene::BloomInstance& instance = scene_.blooms[bloom];
    const scene::Mesh& mesh = scene_.meshes[instance.mesh];
    const glm::vec3 from = glm::vec3(way) * glm::mat3(instance.wallFromMesh);  // in the mesh's frame
    for (std::uint32_t k = 0; k < mesh.triangles.size(); ++k) {
      const std::uint32_t triangle = paper_.firstOf(bloom) + k;
      if (shows[triangle + 1] == 0) continue;
      const auto& [a, b, c] = mesh.triangles[k];
      const glm::vec3 normal =
          glm::cross(mesh.vertices[b] - mesh.vertices[a], mesh.vertices[c] - mesh.vertices[a]);
      marks.sides[std::size_t{2} * triangle + (glm::dot(normal, from) < 0 ? 1 : 0)] = 1;
    }
  }
}

std::vector<PaperSide> SceneLight::inSquares(const std::vector<std::uint8_t>& squares,
                                             const std::stop_token& stop) {
  Marks marks{std::vector<std::uint8_t>(2 * paper_.triangles(), 0)};
  const std::vector<visibility::TriangleBatch> batches = visibility::triangleBatchesOf(scene_);
  const glm::dvec2 whole(scene_.panels.width_mm(), scene_.panels.height_mm());
  const double square_mm = usual_square_mm * scale_;
  const double beside_mm = usual_beside_mm * scale_;
  visibility::IdBuffer seen;
  for (int square = 0; square < across_ * down_; ++square) {
    if (squares[static_cast<std::size_t>(square)] == 0) continue;
    throwIfStopAsked(stop);
    const glm::dvec2 from = square_mm * glm::dvec2(square % across_, square / across_);
    const BoardRect piece{from - beside_mm, glm::min(from + square_mm, whole) + beside_mm};
    for (const glm::dvec3& way : waysToLook()) {
      const visibility::RasterView view = farView(way, piece, scale_);
      rasteriser_.draw(batches, view, seen);
      addSeen(way, seen, marks);
    }
  }
  std::vector<PaperSide> sides;
  for (std::uint32_t bloom = 0; bloom < scene_.blooms.size(); ++bloom) {
    if (squares[squareOf(scene_.blooms[bloom].at_mm)] == 0) continue;
    const std::size_t count = scene_.meshes[scene_.blooms[bloom].mesh].triangles.size();
    for (std::uint32_t triangle = paper_.firstOf(bloom); triangle < paper_.firstOf(bloom) + count;
         ++triangle) {
      for (const bool back : {false, true}) {
        if (marks.sides[std::size_t{2} * triangle + (back ? 1 : 0)] != 0)
          sides.push_back({bloom, triangle, back});
      }
    }
  }
  return sides;
}

// Pieces that share no spots with the paper of others: a bloom's sides, or a stretch of the board.
struct SceneLight::Group {
  std::span<const PaperSide> sides;
  std::span<const int> tiles;
  SharedSpots spots;
  std::size_t first = 0;  // of its spots among all
};

std::vector<SceneLight::Group> SceneLight::groupsOf(const SeenPieces& pieces) {
  constexpr std::size_t tiles_together = 256;
  std::vector<Group> groups;
  const std::span<const PaperSide> sides(pieces.sides);
  for (std::size_t from = 0; from < sides.size();) {
    std::size_t end = from;
    while (end < sides.size() && sides[end].bloom == sides[from].bloom) ++end;
    groups.push_back({sides.subspan(from, end - from), {}, {}});
    from = end;
  }
  const std::span<const int> tiles(pieces.tiles);
  for (std::size_t from = 0; from < tiles.size(); from += tiles_together)
    groups.push_back({{}, tiles.subspan(from, std::min(tiles_together, tiles.size() - from)), {}});
  return groups;
}

void SceneLight::take(const Group& group, std::span<const Arriving> light) {
  std::span<const std::uint32_t> left = group.spots.which();
  std::vector<Arriving> own;
  const auto next = [&](std::size_t count) {
    own.clear();
    for (const std::uint32_t k : left.first(count)) own.push_back(light[group.first + k]);
    left = left.subspan(count);
    return std::span<const Arriving>(own);
  };
  for (const PaperSide& side : group.sides) paper_.take(side, next(paper_.spotsOf(side)));
  for (const int tile : group.tiles) boards_.take(tile, next(BoardLight::spots_of_tile));
}

// Pieces that lie together, in portions of no more places than are lit at a time (but for a single bloom).
std::vector<SeenPieces> SceneLight::bySquare(const SeenPieces& pieces) const {
  std::vector<SeenPieces> squares(lit_.size());
  for (const PaperSide& side : pieces.sides)
    squares[squareOf(scene_.blooms[side.bloom].at_mm)].sides.push_back(side);
  for (const int tile : pieces.tiles) squares[squareOf(boards_.middleOf(tile))].tiles.push_back(tile);
  for (const BoardLight::Place place : pieces.places)
    squares[squareOf(glm::dvec2(BoardLight::spotOf(place).point))].places.push_back(place);
  std::vector<SeenPieces> portions;
  for (const SeenPieces& square : squares) {
    std::size_t spots = most_spots;
    const auto portionFor = [&](std::size_t more, bool may_begin) -> SeenPieces& {
      if (may_begin && spots + more > most_spots) {
        portions.emplace_back();
        spots = 0;
      }
      spots += more;
      return portions.back();
    };
    std::uint32_t last_bloom = 0xffffffffU;
    for (const PaperSide& side : square.sides) {
      portionFor(paper_.spotsOf(side), side.bloom != last_bloom).sides.push_back(side);
      last_bloom = side.bloom;
    }
    for (const int tile : square.tiles) portionFor(BoardLight::spots_of_tile, true).tiles.push_back(tile);
    for (const BoardLight::Place place : square.places) portionFor(1, true).places.push_back(place);
  }
  return portions;
}

void SceneLight::light(const SeenPieces& pieces, LightQuality quality, const std::stop_token& stop) {
  if (scene_.blooms.empty()) {
    lightBareBoard(pieces.tiles, quality);
    return;
  }
  for (const SeenPieces& portion : bySquare(pieces)) lightTogether(portion, quality, stop);
}

// Nothing stands in the light's way: it is the same everywhere.
void SceneLight::lightBareBoard(std::span<const int> tiles, LightQuality quality) {
  LitSpots anywhere;
  anywhere.push_back({{0, 0, 0}, {0, 0, 1}, {0, 0, 1}});
  std::vector<Arriving> light;
  light_.arriving(anywhere, quality, light);
  const std::vector<Arriving> of_tile(BoardLight::spots_of_tile, light.front());
  constexpr std::size_t at_a_time = 10'000;
  for (std::size_t from = 0; from < tiles.size(); from += at_a_time) {
    const std::span<const int> some = tiles.subspan(from, std::min(at_a_time, tiles.size() - from));
    boards_.makeRoomFor(some);
    for (const int tile : some) boards_.take(tile, of_tile);
    boards_.shareEven();
  }
}

void SceneLight::lightTogether(const SeenPieces& pieces, LightQuality quality, const std::stop_token& stop) {
  std::vector<Group> groups = groupsOf(pieces);
  pool_.forEach(groups.size(), [&](std::size_t k) {
    for (const PaperSide& side : groups[k].sides) paper_.addSpots(side, groups[k].spots);
    for (const int tile : groups[k].tiles) boards_.addSpots(tile, groups[k].spots);
  });
  LitSpots all;
  for (Group& group : groups) {
    group.first = all.size();
    all.append(group.spots.unique());
  }
  const std::size_t first_place = all.size();
  for (const BoardLight::Place place : pieces.places) all.push_back(BoardLight::spotOf(place));
  std::vector<Arriving> light;
  light_.arriving(all, quality, light, stop);
  paper_.makeRoomFor(pieces.sides);
  boards_.makeRoomFor(pieces.tiles);
  pool_.forEach(groups.size(), [&](std::size_t k) { take(groups[k], light); });
  boards_.takePlaces(pieces.places, std::span<const Arriving>(light).subspan(first_place));
  boards_.shareEven();
}

void SceneLight::lightBoard(const SeenPieces& seen, const std::stop_token& stop) {
  if (seen.tiles == board_.tiles && seen.places == board_.places) return;
  boards_.clear();
  board_ = {};
  const SeenPieces board{{}, seen.tiles, seen.places};
  light(board, lighting_ == Lighting::full ? LightQuality::full : LightQuality::rough, stop);
  board_ = board;
}

void SceneLight::lightUp(const SeenPieces& seen, const std::stop_token& stop) {
  const std::vector<std::uint8_t> due = dueSquares(seen);
  if (lighting_ == Lighting::full && std::find(due.begin(), due.end(), std::uint8_t{1}) != due.end()) {
    light({inSquares(due, stop), {}, {}}, LightQuality::full, stop);
    for (std::size_t k = 0; k < lit_.size(); ++k) lit_[k] |= due[k];
  }
  lightBoard(seen, stop);
  SeenPieces rest;
  for (const PaperSide& side : seen.sides)
    if (!paper_.isLit(side)) rest.sides.push_back(side);
  light(rest, LightQuality::rough, stop);
}

}  // namespace petalproof::light
