#include "engine/visibility/visibility_buffer.h"

#include "engine/scene/person.h"

#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>
#include <glm/mat3x3.hpp>

#include <array>
#include <cmath>

namespace petalproof {
namespace {

// A person's mesh as it stands in the wall frame, its front towards z.
Mesh standing(const Person& person, const WallFrame& wall) {
  Mesh mesh = makePerson(toMillimetres(person.height, wall.units));
  const glm::vec3 at(wall.width_mm / 2 + toMillimetres(person.right_of_centre, wall.units),
                     -wall.above_floor_mm, toMillimetres(person.out_from_board, wall.units));
  for (glm::vec3& vertex : mesh.vertices) vertex += at;
  return mesh;
}

// The inverse depth of the board plane, affine in the picture.
struct BoardDepth {
  double at_origin = 0;
  double per_x = 0;
  double per_y = 0;
  float at(int x, int y) const {
    const double depth = at_origin + per_x * (x + 0.5) + per_y * (y + 0.5);
    return depth > 0 ? static_cast<float>(depth) : 0.0F;
  }
};

// A ray of depth 1 along the lens axis goes down in z by `fall`; the plane is position.z below.
BoardDepth boardDepth(const Camera& camera) {
  const glm::dmat3 wallFromCamera = glm::transpose(camera.cameraFromWall);
  const double z = camera.position.mm.z;
  BoardDepth depth;
  depth.per_x = -wallFromCamera[0].z / camera.focal_px / z;
  depth.per_y = wallFromCamera[1].z / camera.focal_px / z;
  depth.at_origin =
      wallFromCamera[2].z / z - depth.per_x * camera.width_px / 2 - depth.per_y * camera.height_px / 2;
  return depth;
}

}  // namespace

RasterView rasterViewOf(const Camera& camera) {
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

std::vector<TriangleBatch> batchesOf(const Scene& scene) {
  std::vector<TriangleBatch> batches;
  batches.reserve(scene.blooms.size());
  for (const BloomInstance& bloom : scene.blooms) {
    const Mesh& mesh = scene.meshes[bloom.mesh];
    batches.push_back({mesh.vertices, mesh.triangles, bloom.wallFromMesh,
                       static_cast<std::uint32_t>(batches.size() + 1), false});
  }
  return batches;
}

void VisibilityRenderer::render(const Scene& scene, const Camera& camera, const std::vector<Person>& people,
                                const WallFrame& wall, VisibilityBuffer& out) {
  const RasterView view = rasterViewOf(camera);
  rasteriser_.draw(batchesOf(scene), view, scratch_);
  out.width_px = camera.width_px;
  out.height_px = camera.height_px;
  out.ids.resize(scratch_.ids.size());
  out.inverse_depths.resize(scratch_.ids.size());
  const BoardDepth board = boardDepth(camera);
  const auto row = [&](int y) {
    for (int x = 0; x < camera.width_px; ++x) {
      const std::size_t at = out.offset(x, y);
      if (scratch_.ids[at] != 0) {
        out.ids[at] = {Sees::bloom, scratch_.ids[at] - 1};
        out.inverse_depths[at] = scratch_.inverse_depths[at];
        continue;
      }
      const auto place = boardPointOf(camera, {{x + 0.5, y + 0.5}});
      out.ids[at] = place ? boardPlaneAt(scene.panels, *place) : PixelId{};
      out.inverse_depths[at] = place ? board.at(x, y) : 0.0F;
    }
  };
  tbb::task_arena arena(threads_ > 0 ? threads_ : tbb::task_arena::automatic);
  arena.execute([&] { tbb::parallel_for(0, camera.height_px, row); });

  out.people.clear();
  if (people.empty()) return;
  std::vector<Mesh> meshes;
  std::vector<TriangleBatch> batches;
  meshes.reserve(people.size());
  for (const Person& person : people) {
    meshes.push_back(standing(person, wall));
    batches.push_back({meshes.back().vertices, meshes.back().triangles, glm::mat4x3(1.0F), 1, false});
  }
  rasteriser_.draw(batches, view, scratch_);
  out.people.resize(out.ids.size());
  for (std::size_t at = 0; at < out.ids.size(); ++at) {
    out.people[at] = scratch_.ids[at] != 0 && scratch_.inverse_depths[at] > out.inverse_depths[at] ? 1 : 0;
  }
}

PictureShares sharesOf(const VisibilityBuffer& buffer) {
  std::array<std::int64_t, 8> counts{};
  for (const PixelId id : buffer.ids) ++counts[static_cast<std::size_t>(id.sees())];
  std::int64_t hidden = 0;
  for (const std::uint8_t person : buffer.people) hidden += person;
  const double pixels = buffer.ids.empty() ? 1.0 : static_cast<double>(buffer.ids.size());
  const auto share = [&](Sees sees) {
    return static_cast<double>(counts[static_cast<std::size_t>(sees)]) / pixels;
  };
  return {share(Sees::bloom),  share(Sees::board), share(Sees::seam),
          share(Sees::behind), share(Sees::off),   static_cast<double>(hidden) / pixels};
}

}  // namespace petalproof
