#include "engine/light/surfaces.h"

#include "engine/base/colour.h"
#include "engine/light/internal/unit_or.h"
#include "engine/scene/board_boxes.h"

#include <glm/geometric.hpp>
#include <glm/mat3x3.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace petalproof::light {
namespace {

struct Corners {
  std::array<glm::vec3, 3> p;
};

Corners cornersOf(const visibility::TriangleBatch& batch, std::size_t triangle) {
  Corners corners;
  for (std::size_t k = 0; k < 3; ++k) {
    corners.p[k] = batch.worldFromBatch * glm::vec4(batch.vertices[batch.triangles[triangle][k]], 1.0F);
  }
  return corners;
}

struct Hit {
  glm::vec3 point{0};
  glm::vec3 normal{0};   // of the plane, by the triangle's winding
  glm::vec3 weights{0};  // of the corners, clamped into the triangle
};

// The ray and the plane of the triangle. A triangle seen edge-on gives its first corner.
Hit meet(const Ray& ray, const Corners& c) {
  const glm::vec3 along1 = c.p[1] - c.p[0];
  const glm::vec3 along2 = c.p[2] - c.p[0];
  const glm::vec3 cross = glm::cross(along1, along2);
  Hit hit{c.p[0], unitOr(cross, {0, 0, 1}), {1, 0, 0}};
  const float fall = glm::dot(ray.towards, cross);
  const float area2 = glm::dot(cross, cross);
  if (fall == 0 || area2 == 0) return hit;
  const float t = glm::dot(c.p[0] - ray.from, cross) / fall;
  hit.point = ray.from + t * ray.towards;
  const glm::vec3 in = hit.point - c.p[0];
  const float w1 = std::clamp(glm::dot(glm::cross(in, along2), cross) / area2, 0.0F, 1.0F);
  const float w2 = std::clamp(glm::dot(glm::cross(along1, in), cross) / area2, 0.0F, 1.0F - w1);
  hit.weights = {1 - w1 - w2, w1, w2};
  return hit;
}

}  // namespace

glm::vec3 tinted(const glm::vec3& colour, float tint) {
  const glm::vec3 foot = colour * (0.42F + 0.36F * colour);
  const glm::vec3 rim = colour + colour * (glm::vec3(1.0F) - colour) * 0.14F;
  const float t = tint * tint * (3 - 2 * tint);
  return foot + (rim - foot) * t;
}

std::vector<glm::vec3> smoothNormals(const scene::Mesh& mesh) {
  std::vector<glm::vec3> normals(mesh.vertices.size(), glm::vec3(0.0F));
  for (const scene::Triangle& t : mesh.triangles) {
    const glm::vec3& a = mesh.vertices[t[0]];
    const glm::vec3 area = glm::cross(mesh.vertices[t[1]] - a, mesh.vertices[t[2]] - a);
    for (const std::uint32_t corner : t) normals[corner] += area;
  }
  for (glm::vec3& normal : normals) normal = unitOr(normal, {0, 0, 1});
  return normals;
}

Surfaces::Surfaces(const scene::Scene& scene)
    : scene_(scene),
      board_(linearFromSrgb(scene.colours.board)),
      edge_(linearFromSrgb(scene.colours.board_edge)) {
  for (const scene::Mesh& mesh : scene.meshes) normals_.push_back(smoothNormals(mesh));
  for (const scene::BloomInstance& bloom : scene.blooms) {
    addBatch(scene.meshes[bloom.mesh], bloom.wallFromMesh);
    colours_.push_back(linearFromSrgb(bloom.colour));
  }
  for (int row = 0; row < scene.panels.rows; ++row) {
    for (int column = 0; column < scene.panels.columns; ++column) {
      if (scene.panels.panelAt(column, row)) boxes_.push_back(scene::boardBox(scene.panels, column, row));
    }
  }
  for (const scene::Mesh& box : boxes_) addBatch(box, glm::mat4x3(1.0F));
}

void Surfaces::addBatch(const scene::Mesh& mesh, const glm::mat4x3& wallFromMesh) {
  const std::uint32_t id =
      batches_.empty() ? 1
                       : batches_.back().id + static_cast<std::uint32_t>(batches_.back().triangles.size());
  batches_.push_back({mesh.vertices, mesh.triangles, wallFromMesh, id, true});
}

SurfacePoint Surfaces::at(std::uint32_t id, const Ray& ray) const {
  const auto after =
      std::upper_bound(batches_.begin(), batches_.end(), id,
                       [](std::uint32_t k, const visibility::TriangleBatch& batch) { return k < batch.id; });
  const visibility::TriangleBatch& batch = *(after - 1);
  const auto object = static_cast<std::size_t>(after - 1 - batches_.begin());
  const std::size_t triangle = id - batch.id;
  const Hit hit = meet(ray, cornersOf(batch, triangle));
  SurfacePoint found{hit.point, hit.normal, hit.normal, board_, static_cast<std::uint32_t>(object), false};
  if (object < scene_.blooms.size()) {
    shadeBloom(object, triangle, hit.weights, found);
  } else if (std::abs(hit.normal.z) < 0.5F) {
    found.colour = edge_;
  }
  if (glm::dot(hit.normal, ray.towards) > 0) {
    found.normal = -found.normal;
    found.face = -found.face;
  }
  return found;
}

void Surfaces::shadeBloom(std::size_t bloom, std::size_t triangle, const glm::vec3& weights,
                          SurfacePoint& found) const {
  const scene::BloomInstance& instance = scene_.blooms[bloom];
  const scene::Mesh& mesh = scene_.meshes[instance.mesh];
  const std::vector<glm::vec3>& normals = normals_[instance.mesh];
  const scene::Triangle& corners = mesh.triangles[triangle];
  glm::vec3 smooth(0.0F);
  float tint = mesh.tint.empty() ? plain_tint : 0.0F;
  for (int k = 0; k < 3; ++k) {
    const std::uint32_t corner = corners[static_cast<std::size_t>(k)];
    smooth += normals[corner] * weights[k];
    if (!mesh.tint.empty()) tint += mesh.tint[corner] * weights[k];
  }
  smooth = unitOr(glm::mat3(instance.wallFromMesh) * smooth, found.normal);
  // Where the mesh is folded sharply or wound both ways, the mean says nothing.
  if (glm::dot(smooth, found.normal) > 0.5F) found.normal = smooth;
  found.colour = tinted(colours_[bloom], tint);
  found.paper = true;
}

}  // namespace petalproof::light
