#pragma once
// The wall's triangles for a picture: ids that name a triangle, and what a ray finds on it.

#include "engine/scene/scene.h"
#include "engine/visibility/rasteriser.h"

#include <glm/vec3.hpp>

#include <cstdint>
#include <span>
#include <vector>

namespace petalproof::light {

struct Ray {
  glm::vec3 from;
  glm::vec3 towards;  // any length
};

struct SurfacePoint {
  glm::vec3 point{0};   // wall frame, mm
  glm::vec3 normal{0};  // unit, of the smooth surface, towards the viewer
  glm::vec3 face{0};    // likewise, of the triangle
  glm::vec3 colour{0};  // share of light reflected
  std::uint32_t object = 0;
  bool paper = false;  // lets some light through
};

// Every bloom, then a box for every panel. Refers to the scene, which must outlive it.
class Surfaces {
 public:
  explicit Surfaces(const scene::Scene& scene);
  Surfaces(const Surfaces&) = delete;
  Surfaces& operator=(const Surfaces&) = delete;

  const std::vector<visibility::TriangleBatch>& batches() const { return batches_; }
  std::span<const visibility::TriangleBatch> blooms() const {
    return {batches_.data(), scene_.blooms.size()};
  }
  // Where the ray meets the plane of the triangle that an id names.
  SurfacePoint at(std::uint32_t id, const Ray& ray) const;

 private:
  void addBatch(const scene::Mesh& mesh, const glm::mat4x3& wallFromMesh);
  void shadeBloom(std::size_t bloom, std::size_t triangle, const glm::vec3& weights,
                  SurfacePoint& found) const;

  const scene::Scene& scene_;
  std::vector<scene::Mesh> boxes_;
  std::vector<std::vector<glm::vec3>> normals_;  // one a vertex, as scene.meshes
  std::vector<glm::vec3> colours_;               // linear, as scene.blooms
  std::vector<visibility::TriangleBatch> batches_;
  glm::vec3 board_{0};
  glm::vec3 edge_{0};
};

// Linear colour of paper, darker and richer at a petal's foot (tint 0) and a touch lighter at its rim (1).
glm::vec3 tinted(const glm::vec3& colour, float tint);
constexpr float plain_tint = 0.8F;  // of a mesh that has none

// Unit normals of smooth paper: at each vertex the mean of its triangles' normals by area.
std::vector<glm::vec3> smoothNormals(const scene::Mesh& mesh);

}  // namespace petalproof::light
