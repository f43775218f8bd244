#include "engine/light/light_scale.h"

#include <glm/common.hpp>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

namespace petalproof::light {
namespace {

// As many mm2 as the map of what is bare has cells at most: 30 squares of light of the usual size.
constexpr double usual_area_mm2 = 268'435'456;
// The demo's wall has 5.7 times as much paper as board; where blooms are larger than panels there may be 200
// times as much, and every lamp's map draws all of it.
constexpr double usual_paper_mm2 = 8 * usual_area_mm2;

struct MeshSize {
  double radius_mm = 0;
  double paper_mm2 = 0;
};

MeshSize sizeOf(const scene::Mesh& mesh) {
  MeshSize size;
  for (const glm::vec3& v : mesh.vertices)
    size.radius_mm = std::max(size.radius_mm, static_cast<double>(glm::length(v)));
  for (const auto& [a, b, c] : mesh.triangles) {
    const glm::dvec3 corner(mesh.vertices[a]);
    size.paper_mm2 += glm::length(glm::cross(glm::dvec3(mesh.vertices[b]) - corner,
                                             glm::dvec3(mesh.vertices[c]) - corner)) /
                      2;
  }
  return size;
}

}  // namespace

double lightScale(const scene::Scene& scene) {
  std::vector<MeshSize> sizes;
  for (const scene::Mesh& mesh : scene.meshes) sizes.push_back(sizeOf(mesh));
  glm::dvec2 low(0);
  glm::dvec2 high(scene.panels.width_mm(), scene.panels.height_mm());
  double depth = 0;
  double paper_mm2 = 0;
  for (const scene::BloomInstance& bloom : scene.blooms) {
    const glm::dvec3 middle(bloom.wallFromMesh[3]);
    const double radius = sizes[bloom.mesh].radius_mm;
    paper_mm2 += sizes[bloom.mesh].paper_mm2;
    low = glm::min(low, glm::dvec2(middle) - radius);
    high = glm::max(high, glm::dvec2(middle) + radius);
    depth = std::max(depth, std::abs(middle.z) + radius);
  }
  // Slanting rays see the blooms' depth beside the wall.
  const glm::dvec2 sides = high - low + 2 * depth;
  return std::sqrt(std::max({1.0, sides.x * sides.y / usual_area_mm2, paper_mm2 / usual_paper_mm2}));
}

}  // namespace petalproof::light
