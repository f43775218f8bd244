#include "engine/visibility/visibility_buffer.h"

#include "engine/base/picture_memory.h"
#include "engine/base/stopping.h"
#include "engine/scene/person.h"
#include "engine/visibility/internal/board_cells.h"
#include "engine/visibility/internal/stream.h"

#include <algorithm>
#include <array>
#include <atomic>

namespace petalproof::visibility {

namespace {

constexpr int tile_px = FinishedTile::size_px;

struct TileRow {
  std::array<std::uint32_t, tile_px> ids;
  std::array<float, tile_px> inverse_depths;
};

// The part of a tile that lies in the picture.
struct TilePart {
  int columns;
  int rows;
  TilePart(const FinishedTile& tile, const VisibilityBuffer& out)
      : columns(std::min(tile_px, out.width_px - tile.x0())),
        rows(std::min(tile_px, out.height_px - tile.y0())) {}
};

// A row of a tile: the cells and depths of the board plane, over which blooms are put.
struct BoardRow {
  std::array<PixelId, tile_px> ids;
  std::array<float, tile_px> inverse_depths{};
};

// Overwrites the board plane's cells and depths where the row has a bloom.
void putBlooms(const TileRow& blooms, BoardRow& row) {
  for (std::size_t x = 0; x < tile_px; ++x) {
    const bool bloom = blooms.ids[x] != 0;
    row.ids[x] = bloom ? PixelId{Sees::bloom, blooms.ids[x] - 1} : row.ids[x];
    row.inverse_depths[x] = bloom ? blooms.inverse_depths[x] : row.inverse_depths[x];
  }
}

// Writes each pixel's bloom, else its cell of the board plane.
void writeIds(const FinishedTile& tile, const BoardSight& sight, VisibilityBuffer& out) {
  const TilePart part(tile, out);
  const auto columns = static_cast<std::size_t>(part.columns);
  const auto only_cell =
      sight.cellOver(tile.x0(), tile.y0(), tile.x0() + part.columns, tile.y0() + part.rows);
  TileRow blooms;
  std::array<PixelId, tile_px> ids;
  for (int y = 0; y < part.rows; ++y) {
    tile.readRow(y, blooms.ids.data(), blooms.inverse_depths.data());
    const auto end = blooms.ids.begin() + part.columns;
    if (std::find(blooms.ids.begin(), end, 0U) != end) {
      if (only_cell) ids.fill(*only_cell);
      if (!only_cell) sight.idsOfRow(tile.x0(), tile.y0() + y, std::span(ids).first(columns));
    }
    for (std::size_t x = 0; x < tile_px; ++x)
      ids[x] = blooms.ids[x] != 0 ? PixelId{Sees::bloom, blooms.ids[x] - 1} : ids[x];
    std::copy_n(ids.begin(), columns,
                out.ids.begin() + static_cast<std::ptrdiff_t>(out.offset(tile.x0(), tile.y0() + y)));
  }
}

// By triangle, 0 for none: its bloom's index + 1.
std::vector<std::uint32_t> bloomsOfTriangles(const scene::Scene& scene) {
  std::vector<std::uint32_t> blooms{0};
  for (std::size_t k = 0; k < scene.blooms.size(); ++k)
    blooms.insert(blooms.end(), scene.meshes[scene.blooms[k].mesh].triangles.size(),
                  static_cast<std::uint32_t>(k + 1));
  return blooms;
}

// `blooms_of`: the bloom of each triangle where the tile's ids are triangles, else empty.
void writeTile(const FinishedTile& tile, const BoardSight& sight, std::span<const std::uint32_t> blooms_of,
               VisibilityBuffer& out) {
  const TilePart part(tile, out);
  const auto columns = static_cast<std::size_t>(part.columns);
  const auto only_cell =
      sight.cellOver(tile.x0(), tile.y0(), tile.x0() + part.columns, tile.y0() + part.rows);
  TileRow blooms;
  BoardRow row;
  for (int y = 0; y < part.rows; ++y) {
    tile.readRow(y, blooms.ids.data(), blooms.inverse_depths.data());
    const std::size_t at = out.offset(tile.x0(), tile.y0() + y);
    if (!blooms_of.empty()) {
      visibility::streamCopy(std::span<const std::uint32_t>(blooms.ids).first(columns), &out.triangles[at]);
      for (std::uint32_t& id : blooms.ids) id = blooms_of[id];
    }
    const auto end = blooms.ids.begin() + part.columns;
    if (std::find(blooms.ids.begin(), end, 0U) != end) {
      if (only_cell) row.ids.fill(*only_cell);
      if (!only_cell) sight.idsOfRow(tile.x0(), tile.y0() + y, std::span(row.ids).first(columns));
      sight.inverseDepthsOfRow(tile.x0(), tile.y0() + y, row.inverse_depths);
    }
    putBlooms(blooms, row);
    visibility::streamCopy(std::span<const PixelId>(row.ids).first(columns), &out.ids[at]);
    visibility::streamCopy(std::span<const float>(row.inverse_depths).first(columns),
                           &out.inverse_depths[at]);
  }
  visibility::streamDone();
}

// A person hides a pixel by standing nearer than what it sees.
void writePeople(const FinishedTile& tile, VisibilityBuffer& out) {
  const TilePart part(tile, out);
  TileRow row;
  for (int y = 0; y < part.rows; ++y) {
    const std::size_t at = out.offset(tile.x0(), tile.y0() + y);
    std::uint8_t* const people = &out.people[at];
    if (tile.empty()) {
      std::fill_n(people, part.columns, std::uint8_t{0});
      continue;
    }
    tile.readRow(y, row.ids.data(), row.inverse_depths.data());
    for (std::size_t x = 0; x < static_cast<std::size_t>(part.columns); ++x) {
      people[x] = row.ids[x] != 0 && row.inverse_depths[x] > out.inverse_depths[at + x] ? 1 : 0;
    }
  }
}

// A person's mesh as it stands in the wall frame, its front towards z.
scene::Mesh standing(const plan::Person& person, const camera::WallFrame& wall) {
  scene::Mesh mesh = scene::makePerson(toMillimetres(person.height, wall.units));
  const glm::vec3 at(wall.width_mm / 2 + toMillimetres(person.right_of_centre, wall.units),
                     -wall.above_floor_mm, toMillimetres(person.out_from_board, wall.units));
  for (glm::vec3& vertex : mesh.vertices) vertex += at;
  return mesh;
}

}  // namespace

PixelId boardPlaneAt(const scene::PanelGrid& panels, BoardPoint place) {
  return visibility::boardCellAt(panels, place).id;
}

RasterView rasterViewOf(const camera::Camera& camera) {
  RasterView view;
  const glm::dvec3 shift = -(camera.cameraFromWall * camera.position.mm);
  view.cameraFromWorld =
      glm::dmat4x3(camera.cameraFromWall[0], camera.cameraFromWall[1], camera.cameraFromWall[2], shift);
  view.focal_px = camera.focal_px;
  view.principal_px = {camera.width_px / 2.0, camera.height_px / 2.0};
  view.width_px = camera.width_px;
  view.height_px = camera.height_px;
  return view;
}

std::vector<TriangleBatch> batchesOf(const scene::Scene& scene) {
  std::vector<TriangleBatch> batches;
  batches.reserve(scene.blooms.size());
  for (const scene::BloomInstance& bloom : scene.blooms) {
    const scene::Mesh& mesh = scene.meshes[bloom.mesh];
    batches.push_back({mesh.vertices, mesh.triangles, bloom.wallFromMesh,
                       static_cast<std::uint32_t>(batches.size() + 1), false});
  }
  return batches;
}

std::vector<TriangleBatch> triangleBatchesOf(const scene::Scene& scene) {
  std::vector<TriangleBatch> batches = batchesOf(scene);
  std::uint32_t first = 1;
  for (TriangleBatch& batch : batches) {
    batch.id = first;
    batch.id_per_triangle = true;
    first += static_cast<std::uint32_t>(batch.triangles.size());
  }
  return batches;
}

void VisibilityRenderer::renderIds(const scene::Scene& scene, const camera::Camera& camera,
                                   VisibilityBuffer& out) {
  const BoardSight sight(scene.panels, camera);
  out.width_px = camera.width_px;
  out.height_px = camera.height_px;
  out.inverse_depths.clear();
  out.people.clear();
  out.triangles.clear();
  resizePicture(
      out.ids, static_cast<std::size_t>(camera.width_px) * static_cast<std::size_t>(camera.height_px), pool_);
  rasteriser_.drawTiles(batchesOf(scene), rasterViewOf(camera),
                        [&](const FinishedTile& tile) { writeIds(tile, sight, out); });
}

void VisibilityRenderer::render(const scene::Scene& scene, const camera::Camera& camera,
                                const std::vector<plan::Person>& people, const camera::WallFrame& wall,
                                VisibilityBuffer& out, Triangles triangles, const std::stop_token& stop) {
  const RasterView view = rasterViewOf(camera);
  const bool asked = triangles == Triangles::asked;
  const std::vector<std::uint32_t> blooms_of =
      asked ? bloomsOfTriangles(scene) : std::vector<std::uint32_t>();
  const BoardSight sight(scene.panels, camera);
  const auto pixels = static_cast<std::size_t>(camera.width_px) * static_cast<std::size_t>(camera.height_px);
  out.width_px = camera.width_px;
  out.height_px = camera.height_px;
  resizePicture(out.ids, pixels, pool_);
  resizePicture(out.inverse_depths, pixels, pool_);
  resizePicture(out.triangles, asked ? pixels : 0, pool_);
  rasteriser_.drawTiles(asked ? triangleBatchesOf(scene) : batchesOf(scene), view,
                        [&](const FinishedTile& tile) {
                          throwIfStopAsked(stop);
                          writeTile(tile, sight, blooms_of, out);
                        });
  renderPeople(view, people, wall, out);
}

void VisibilityRenderer::renderPeople(const RasterView& view, const std::vector<plan::Person>& people,
                                      const camera::WallFrame& wall, VisibilityBuffer& out) {
  if (people.empty()) {
    out.people.clear();
    return;
  }
  resizePicture(out.people, out.ids.size(), pool_);
  std::vector<scene::Mesh> meshes;
  std::vector<TriangleBatch> batches;
  meshes.reserve(people.size());
  for (const plan::Person& person : people) {
    const scene::Mesh& mesh = meshes.emplace_back(standing(person, wall));
    batches.push_back({mesh.vertices, mesh.triangles, glm::mat4x3(1.0F), 1, false});
  }
  rasteriser_.drawTiles(batches, view, [&out](const FinishedTile& tile) { writePeople(tile, out); });
}

PictureShares sharesOf(const VisibilityBuffer& buffer, const Pool& pool) {
  constexpr std::size_t stretch = std::size_t{1} << 18;  // pixels that a thread counts at a time
  constexpr std::size_t kinds = 8;                       // of three bits of PixelId
  std::array<std::atomic<std::int64_t>, kinds> counts{};
  std::atomic<std::int64_t> hidden{0};
  pool.forEach((buffer.ids.size() + stretch - 1) / stretch, [&](std::size_t part) {
    const std::size_t end = std::min(buffer.ids.size(), (part + 1) * stretch);
    std::array<std::int64_t, kinds> seen{};
    for (std::size_t k = part * stretch; k < end; ++k) ++seen[static_cast<std::size_t>(buffer.ids[k].sees())];
    for (std::size_t k = 0; k < seen.size(); ++k) counts[k] += seen[k];
    if (buffer.people.empty()) return;
    std::int64_t people = 0;
    for (std::size_t k = part * stretch; k < end; ++k) people += buffer.people[k];
    hidden += people;
  });
  const double pixels = buffer.ids.empty() ? 1.0 : static_cast<double>(buffer.ids.size());
  const auto share = [&](Sees sees) {
    return static_cast<double>(counts[static_cast<std::size_t>(sees)].load()) / pixels;
  };
  return {share(Sees::bloom),  share(Sees::board), share(Sees::seam),
          share(Sees::behind), share(Sees::off),   static_cast<double>(hidden.load()) / pixels};
}

}  // namespace petalproof::visibility
