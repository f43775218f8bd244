#include "viewer/gl/wall_solids.h"

#include "engine/scene/person.h"

#include <array>

namespace petalproof::gl {
namespace {

constexpr Colour figure_colour{176, 168, 158};
// The surface behind the panels lies close to their backs: it fills slits seen from the side, too.
constexpr double behind_mm = 3;

// The unit square at z = 0, seen from the front.
scene::Mesh frontMesh() {
  scene::Mesh mesh;
  mesh.vertices = {{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {0, 1, 0}};
  mesh.triangles = {{0, 1, 2}, {0, 2, 3}};
  return mesh;
}

// The other five sides of the unit cube from z = -1 to 0.
scene::Mesh sidesMesh() {
  scene::Mesh mesh;
  const auto side = [&mesh](const std::array<glm::vec3, 4>& corners) {
    const auto first = static_cast<std::uint32_t>(mesh.vertices.size());
    mesh.vertices.insert(mesh.vertices.end(), corners.begin(), corners.end());
    mesh.triangles.push_back({first, first + 1, first + 2});
    mesh.triangles.push_back({first, first + 2, first + 3});
  };
  side({glm::vec3{0, 0, -1}, {0, 0, 0}, {0, 1, 0}, {0, 1, -1}});
  side({glm::vec3{1, 0, 0}, {1, 0, -1}, {1, 1, -1}, {1, 1, 0}});
  side({glm::vec3{0, 0, -1}, {1, 0, -1}, {1, 0, 0}, {0, 0, 0}});
  side({glm::vec3{0, 1, 0}, {1, 1, 0}, {1, 1, -1}, {0, 1, -1}});
  side({glm::vec3{1, 0, -1}, {0, 0, -1}, {0, 1, -1}, {1, 1, -1}});
  return mesh;
}

glm::mat4x3 stretched(const glm::dvec3& size, const glm::dvec3& at) {
  return glm::mat4x3(glm::dmat4x3(size.x, 0, 0, 0, size.y, 0, 0, 0, size.z, at.x, at.y, at.z));
}

}  // namespace

Solids panelSolids(const scene::Scene& scene) {
  const scene::PanelGrid& panels = scene.panels;
  const glm::dvec3 size(panels.panel_width_mm, panels.panel_height_mm, panels.thickness_mm);
  Solids solids;
  solids.meshes = {frontMesh(), sidesMesh()};
  for (int row = 0; row < panels.rows; ++row)
    for (int column = 0; column < panels.columns; ++column) {
      if (!panels.panelAt(column, row)) continue;
      const glm::dvec3 at(panels.left_mm(column), panels.top_mm(row) - size.y, 0);
      solids.copies.push_back({0, stretched(size, at), scene.colours.board});
      solids.copies.push_back({1, stretched(size, at), scene.colours.board_edge});
    }
  const glm::dvec3 whole(panels.width_mm(), panels.height_mm(), 1);
  solids.copies.push_back(
      {0, stretched(whole, {0, 0, -panels.thickness_mm - behind_mm}), scene.colours.behind});
  return solids;
}

Solids peopleSolids(std::span<const plan::Person> people, const camera::WallFrame& wall) {
  Solids solids;
  for (const plan::Person& person : people) {
    const glm::dvec3 at(wall.width_mm / 2 + toMillimetres(person.right_of_centre, wall.units),
                        -wall.above_floor_mm, toMillimetres(person.out_from_board, wall.units));
    solids.copies.push_back(
        {static_cast<std::uint32_t>(solids.meshes.size()), stretched(glm::dvec3(1), at), figure_colour});
    solids.meshes.push_back(scene::makePerson(toMillimetres(person.height, wall.units)));
  }
  return solids;
}

std::vector<Copy> copiesOf(const scene::Scene& scene) {
  std::vector<Copy> copies;
  copies.reserve(scene.blooms.size());
  for (const scene::BloomInstance& bloom : scene.blooms)
    copies.push_back({bloom.mesh, bloom.wallFromMesh, bloom.colour});
  return copies;
}

}  // namespace petalproof::gl
