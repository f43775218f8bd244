#include "engine/light/internal/surface_light.h"

#include "engine/base/colour.h"
#include "engine/light/internal/unit_or.h"
#include "engine/light/reflection.h"
#include "engine/light/surfaces.h"

#include <glm/geometric.hpp>
#include <glm/mat3x3.hpp>

#include <array>
#include <cmath>

namespace petalproof::light {
namespace {

constexpr float step_mm = 18.0F;
constexpr int most_steps = 60;

int stepsAlong(float side_mm) {
  return std::clamp(static_cast<int>(std::ceil(side_mm / step_mm)), 1, most_steps);
}

// First points of rows of a net, `along` steps long and in the end `across` wide.
std::vector<std::uint16_t> rowsOf(int along, int across) {
  std::vector<std::uint16_t> first{0, 1};
  for (int row = 1; row <= along; ++row) {
    const int width = (across * row + along - 1) / along;
    first.push_back(static_cast<std::uint16_t>(first.back() + width + 1));
  }
  return first;
}

struct Corner {
  glm::vec3 point{0};
  glm::vec3 normal{0};
  float tint = plain_tint;
};

Corner mixed(const std::array<Corner, 3>& c, float w1, float w2) {
  const float w0 = 1 - w1 - w2;
  return {c[0].point * w0 + c[1].point * w1 + c[2].point * w2,
          c[0].normal * w0 + c[1].normal * w1 + c[2].normal * w2,
          c[0].tint * w0 + c[1].tint * w1 + c[2].tint * w2};
}

}  // namespace

SurfaceLight::SurfaceLight(const scene::Scene& scene) : scene_(scene) {
  for (const scene::Mesh& mesh : scene.meshes) {
    normals_.push_back(smoothNormals(mesh));
    std::vector<Layout>& layouts = layouts_.emplace_back();
    for (const scene::Triangle& triangle : mesh.triangles) layouts.push_back(layoutOf(mesh, triangle));
  }
  std::uint32_t next = 0;
  for (const scene::BloomInstance& bloom : scene.blooms) {
    first_of_.push_back(next);
    next += static_cast<std::uint32_t>(scene.meshes[bloom.mesh].triangles.size());
  }
  net_at_.assign(std::size_t{2} * next, not_lit);
}

SurfaceLight::Layout SurfaceLight::layoutOf(const scene::Mesh& mesh, const scene::Triangle& triangle) {
  std::array<float, 3> opposite{};
  for (std::size_t k = 0; k < 3; ++k) {
    opposite[k] = glm::distance(mesh.vertices[triangle[(k + 1) % 3]], mesh.vertices[triangle[(k + 2) % 3]]);
  }
  const auto apex = std::min_element(opposite.begin(), opposite.end()) - opposite.begin();
  const int along = stepsAlong(*std::max_element(opposite.begin(), opposite.end()));
  const int across = stepsAlong(opposite[static_cast<std::size_t>(apex)]);
  const auto [found, added] = rows_.try_emplace({along, across});
  if (added) found->second = rowsOf(along, across);
  return {static_cast<int>(apex), along, &found->second};
}

PaperNet SurfaceLight::netOf(PaperSide side) const {
  const Layout& layout = layoutOf(side);
  return {points_.data() + net_at_[placeOf(side)], layout.rows->data(), layout.steps,
          layout.rows->back() == 3};
}

std::size_t SurfaceLight::spotsOf(PaperSide side) const { return layoutOf(side).rows->back(); }

// Calls visit(corner, face, on_edge) for each place of a triangle's net: the corners' mean there, the
// triangle's normal, and whether the place is on its edge.
template <class Visit>
void SurfaceLight::forNet(PaperSide side, const Visit& visit) const {
  const scene::BloomInstance& instance = scene_.blooms[side.bloom];
  const scene::Mesh& mesh = scene_.meshes[instance.mesh];
  const Layout& layout = layoutOf(side);
  const scene::Triangle& triangle = mesh.triangles[side.triangle - first_of_[side.bloom]];
  std::array<Corner, 3> corners;
  for (std::size_t k = 0; k < 3; ++k) {
    const std::uint32_t v = triangle[(k + static_cast<std::size_t>(layout.apex)) % 3];
    corners[k].point = instance.wallFromMesh * glm::vec4(mesh.vertices[v], 1.0F);
    corners[k].normal = glm::mat3(instance.wallFromMesh) * normals_[instance.mesh][v];
    if (!mesh.tint.empty()) corners[k].tint = mesh.tint[v];
  }
  const glm::vec3 face =
      unitOr(glm::cross(corners[1].point - corners[0].point, corners[2].point - corners[0].point), {0, 0, 1});
  for (int row = 0; row <= layout.steps; ++row) {
    const auto k = static_cast<std::size_t>(row);
    const int last = (*layout.rows)[k + 1] - (*layout.rows)[k] - 1;
    const float s = static_cast<float>(row) / static_cast<float>(layout.steps);
    for (int point = 0; point <= last; ++point) {
      const float t = last > 0 ? static_cast<float>(point) / static_cast<float>(last) : 0;
      visit(mixed(corners, s * (1 - t), s * t), face, row == layout.steps || point == 0 || point == last);
    }
  }
}

void SurfaceLight::addSpots(PaperSide side, SharedSpots& spots) const {
  constexpr float flat = 0.8F;  // cosine: what is bent less is one surface at its edges
  const float sign = side.back ? -1.0F : 1.0F;
  forNet(side, [&](const Corner& at, const glm::vec3& face, bool on_edge) {
    // Where the mesh is folded sharply or wound both ways, the mean normal says nothing.
    const glm::vec3 smooth = unitOr(at.normal, face);
    const float bend = glm::dot(smooth, face);
    const glm::vec3 normal = bend > 0.5F ? smooth : face;
    spots.push_back({at.point, sign * normal, sign * (on_edge && bend > flat ? smooth : face)});
  });
}

void SurfaceLight::makeRoomFor(std::span<const PaperSide> sides) {
  std::size_t next = points_.size();
  for (const PaperSide& side : sides) {
    if (isLit(side)) continue;  // it is lit again, with more lamps
    net_at_[placeOf(side)] = static_cast<std::uint32_t>(next);
    next += spotsOf(side);
  }
  points_.resize(next);
}

void SurfaceLight::take(PaperSide side, std::span<const Arriving> light) {
  const glm::vec3 own = linearFromSrgb(scene_.blooms[side.bloom].colour);
  glm::vec3* to = points_.data() + net_at_[placeOf(side)];
  auto next = light.begin();
  forNet(side, [&](const Corner& at, const glm::vec3&, bool) {
    *to++ = paperInLight(tinted(own, at.tint), *next++);
  });
}

}  // namespace petalproof::light
