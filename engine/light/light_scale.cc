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

std::vector<double> radiiOf(const std::vector<scene::Mesh>& meshes) {
  std::vector<double> radii;
  for (const scene::Mesh& mesh : meshes) {
    float farthest = 0;
    for (const glm::vec3& v : mesh.vertices) farthest = std::max(farthest, glm::length(v));
    radii.push_back(static_cast<double>(farthest));
  }
  return radii;
}

}  // namespace

double lightScale(const scene::Scene& scene) {
  const std::vector<double> radii = radiiOf(scene.meshes);
  glm::dvec2 low(0);
  glm::dvec2 high(scene.panels.width_mm(), scene.panels.height_mm());
  double depth = 0;
  for (const scene::BloomInstance& bloom : scene.blooms) {
    const glm::dvec3 middle(bloom.wallFromMesh[3]);
    const double radius = radii[bloom.mesh];
    low = glm::min(low, glm::dvec2(middle) - radius);
    high = glm::max(high, glm::dvec2(middle) + radius);
    depth = std::max(depth, std::abs(middle.z) + radius);
  }
  // Slanting rays see the blooms' depth beside the wall.
  const glm::dvec2 sides = high - low + 2 * depth;
  return std::max(1.0, std::sqrt(sides.x * sides.y / usual_area_mm2));
}

}  // namespace petalproof::light
