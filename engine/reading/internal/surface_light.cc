#include "engine/reading/internal/surface_light.h"

#include "engine/base/colour.h"
#include "engine/reading/internal/reflection.h"
#include "engine/reading/internal/surfaces.h"

#include <glm/geometric.hpp>
#include <glm/mat3x3.hpp>

#include <algorithm>
#include <cmath>

namespace petalproof {
namespace {

constexpr float step_mm = 6.0F;
constexpr int most_steps = 60;
constexpr std::uint32_t not_lit = 0xffffffffU;

std::vector<std::uint8_t> stepsOf(const Mesh& mesh) {
  std::vector<std::uint8_t> steps;
  for (const auto& [a, b, c] : mesh.triangles) {
    const glm::vec3& p = mesh.vertices[a];
    const glm::vec3& q = mesh.vertices[b];
    const glm::vec3& r = mesh.vertices[c];
    const float longest = std::max({glm::distance(p, q), glm::distance(q, r), glm::distance(r, p)});
    steps.push_back(static_cast<std::uint8_t>(
        std::clamp(std::ceil(longest / step_mm), 1.0F, static_cast<float>(most_steps))));
  }
  return steps;
}

}  // namespace

SurfaceLight::SurfaceLight(const Scene& scene, const WallLight& light) : scene_(scene), light_(light) {
  for (const Mesh& mesh : scene.meshes) {
    normals_.push_back(smoothNormals(mesh));
    steps_.push_back(stepsOf(mesh));
  }
  std::uint32_t next = 0;
  for (const BloomInstance& bloom : scene.blooms) {
    first_of_.push_back(next);
    next += static_cast<std::uint32_t>(scene.meshes[bloom.mesh].triangles.size());
  }
  net_at_.assign(std::size_t{2} * next, not_lit);
}

std::size_t SurfaceLight::bloomOf(std::uint32_t triangle) const {
  return static_cast<std::size_t>(std::upper_bound(first_of_.begin(), first_of_.end(), triangle) -
                                  first_of_.begin() - 1);
}

SurfaceLight::Net SurfaceLight::netOf(PaperSide side) const {
  const std::size_t bloom = bloomOf(side.triangle);
  return {points_.data() + net_at_[2 * std::size_t{side.triangle} + (side.back ? 1 : 0)],
          steps_[scene_.blooms[bloom].mesh][side.triangle - first_of_[bloom]]};
}

// A corner of a triangle in the wall frame.
struct SurfaceLight::Corner {
  glm::vec3 point{0};
  glm::vec3 normal{0};
  float tint = plain_tint;
};

void SurfaceLight::addSpots(PaperSide side, std::vector<LitSpot>& spots,
                            std::vector<glm::vec3>& colours) const {
  const std::size_t index = bloomOf(side.triangle);
  const BloomInstance& bloom = scene_.blooms[index];
  const Mesh& mesh = scene_.meshes[bloom.mesh];
  const std::size_t local = side.triangle - first_of_[index];
  const glm::mat3 turn(bloom.wallFromMesh);
  Corner corners[3];
  for (std::size_t k = 0; k < 3; ++k) {
    const std::uint32_t v = mesh.triangles[local][k];
    corners[k].point = bloom.wallFromMesh * glm::vec4(mesh.vertices[v], 1.0F);
    corners[k].normal = turn * normals_[bloom.mesh][v];
    if (!mesh.tint.empty()) corners[k].tint = mesh.tint[v];
  }
  const float sign = side.back ? -1.0F : 1.0F;
  const glm::vec3 cross =
      glm::cross(corners[1].point - corners[0].point, corners[2].point - corners[0].point);
  const glm::vec3 face = glm::length(cross) > 0 ? glm::normalize(cross) : glm::vec3(0, 0, 1);
  const glm::vec3 own = linearFromSrgb(bloom.colour);
  const int n = steps_[bloom.mesh][local];
  for (int i = 0; i <= n; ++i) {
    for (int j = 0; i + j <= n; ++j) {
      const float w1 = static_cast<float>(i) / static_cast<float>(n);
      const float w2 = static_cast<float>(j) / static_cast<float>(n);
      const float w0 = 1 - w1 - w2;
      const glm::vec3 mean = corners[0].normal * w0 + corners[1].normal * w1 + corners[2].normal * w2;
      // Where the mesh is folded sharply or wound both ways, the mean says nothing.
      const glm::vec3 smooth = glm::length(mean) > 0 ? glm::normalize(mean) : face;
      spots.push_back({corners[0].point * w0 + corners[1].point * w1 + corners[2].point * w2,
                       sign * (glm::dot(smooth, face) > 0.5F ? smooth : face), sign * face});
      colours.push_back(tinted(own, corners[0].tint * w0 + corners[1].tint * w1 + corners[2].tint * w2));
    }
  }
}

void SurfaceLight::lightUp(std::span<const PaperSide> sides) {
  std::vector<LitSpot> spots;
  std::vector<glm::vec3> colours;
  for (const PaperSide side : sides) {
    std::uint32_t& at = net_at_[2 * std::size_t{side.triangle} + (side.back ? 1 : 0)];
    if (at != not_lit) continue;
    at = static_cast<std::uint32_t>(points_.size() + spots.size());
    addSpots(side, spots, colours);
  }
  std::vector<Arriving> light;
  light_.arriving(spots, light);
  for (std::size_t k = 0; k < spots.size(); ++k) points_.push_back(paperInLight(colours[k], light[k]));
}

}  // namespace petalproof
