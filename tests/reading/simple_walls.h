#pragma once
// Small walls with known answers.

#include "engine/camera/camera.h"
#include "engine/scene/scene.h"

#include <glm/geometric.hpp>
#include <glm/matrix.hpp>

namespace petalproof::testing {

inline scene::Scene bareWall(int columns, double seam_mm) {
  scene::Scene scene;
  scene.panels.columns = columns;
  scene.panels.rows = 1;
  scene.panels.panel_width_mm = 600;
  scene.panels.panel_height_mm = 400;
  scene.panels.seam_mm = seam_mm;
  scene.panels.thickness_mm = 5;
  scene.panels.has_panel = Grid<std::uint8_t>(columns, 1, 1);
  scene.colours = {{200, 170, 120}, {40, 90, 200}, {90, 40, 60}, {120, 120, 120}};
  return scene;
}

// A bloom of any mesh, given in the wall frame.
inline void hang(scene::Scene& scene, scene::Mesh mesh, Colour colour) {
  scene::BloomInstance bloom;
  bloom.mesh = static_cast<std::uint32_t>(scene.meshes.size());
  bloom.colour = colour;
  scene.meshes.push_back(std::move(mesh));
  scene.blooms.push_back(bloom);
}

inline scene::Mesh quad(glm::vec3 a, glm::vec3 b, glm::vec3 c, glm::vec3 d) {
  return {{a, b, c, d}, {{0, 1, 2}, {0, 2, 3}}, {1, 1, 1, 1}};
}

// Parallel to the board.
inline scene::Mesh card(glm::vec3 middle, float half_mm) {
  const float h = half_mm;
  return quad(middle + glm::vec3(-h, -h, 0), middle + glm::vec3(h, -h, 0), middle + glm::vec3(h, h, 0),
              middle + glm::vec3(-h, h, 0));
}

// From `position` towards `aim`, level; a millimetre of the board at `aim` is `px_per_mm` pixels.
inline camera::Camera looking(glm::dvec3 position, glm::dvec2 aim, int width_px, int height_px,
                              double px_per_mm) {
  const glm::dvec3 back = glm::normalize(position - glm::dvec3(aim, 0.0));
  const glm::dvec3 right = glm::normalize(glm::cross(glm::dvec3(0, 1, 0), back));
  camera::Camera camera;
  camera.position.mm = position;
  camera.cameraFromWall = glm::transpose(glm::dmat3(right, glm::cross(back, right), back));
  camera.width_px = width_px;
  camera.height_px = height_px;
  camera.focal_px = px_per_mm * glm::distance(position, glm::dvec3(aim, 0.0));
  camera.focal_mm = 50;
  return camera;
}

}  // namespace petalproof::testing
