#include "tests/light/occlusion_reference.h"

#include "engine/base/units.h"
#include "engine/camera/projection.h"
#include "engine/gaps/gaps.h"
#include "engine/light/surfaces.h"
#include "engine/scene/board_boxes.h"
#include "engine/visibility/visibility_buffer.h"
#include "tests/support/pool.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <stdexcept>

namespace petalproof::testing {
namespace {

constexpr int strata = 128;
constexpr float off_surface_mm = 0.002F;

void attach(RTCDevice device, RTCScene scene, const scene::Mesh& mesh, const glm::mat4x3& wallFromMesh) {
  RTCGeometry geometry = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_TRIANGLE);
  auto* vertices = static_cast<glm::vec3*>(rtcSetNewGeometryBuffer(
      geometry, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3, sizeof(glm::vec3), mesh.vertices.size()));
  auto* triangles = static_cast<scene::Triangle*>(rtcSetNewGeometryBuffer(
      geometry, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3, sizeof(scene::Triangle), mesh.triangles.size()));
  if (vertices == nullptr || triangles == nullptr) throw std::runtime_error("Embree gave no memory");
  for (std::size_t k = 0; k < mesh.vertices.size(); ++k) {
    vertices[k] = wallFromMesh * glm::vec4(mesh.vertices[k], 1.0F);
  }
  std::copy(mesh.triangles.begin(), mesh.triangles.end(), triangles);
  rtcCommitGeometry(geometry);
  rtcAttachGeometry(scene, geometry);
  rtcReleaseGeometry(geometry);
}

}  // namespace

OcclusionReference::OcclusionReference(const scene::Scene& scene)
    : device_(rtcNewDevice(nullptr)), scene_(rtcNewScene(device_.get())) {
  rtcSetSceneFlags(scene_.get(), RTC_SCENE_FLAG_ROBUST);
  for (const scene::BloomInstance& bloom : scene.blooms) {
    attach(device_.get(), scene_.get(), scene.meshes[bloom.mesh], bloom.wallFromMesh);
  }
  for (int row = 0; row < scene.panels.rows; ++row) {
    for (int column = 0; column < scene.panels.columns; ++column) {
      if (!scene.panels.panelAt(column, row)) continue;
      attach(device_.get(), scene_.get(), scene::boardBox(scene.panels, column, row), glm::mat4x3(1.0F));
    }
  }
  rtcCommitScene(scene_.get());
}

float OcclusionReference::openness(const light::SurfacePlace& place, std::uint64_t seed) const {
  std::mt19937_64 random(seed);
  std::uniform_real_distribution<float> in_cell(0.0F, 1.0F);
  const glm::vec3 n = place.normal;
  const glm::vec3 aside = std::abs(n.x) < 0.7F ? glm::vec3(1, 0, 0) : glm::vec3(0, 1, 0);
  const glm::vec3 x = glm::normalize(glm::cross(aside, n));
  const glm::vec3 y = glm::cross(n, x);
  const glm::vec3 from = place.point + n * off_surface_mm;
  int open = 0;
  for (int k = 0; k < strata * strata; ++k) {
    const float r = std::sqrt((static_cast<float>(k / strata) + in_cell(random)) / strata);
    const float angle =
        static_cast<float>(2 * pi) * (static_cast<float>(k % strata) + in_cell(random)) / strata;
    const glm::vec3 d =
        r * std::cos(angle) * x + r * std::sin(angle) * y + std::sqrt(std::max(0.0F, 1 - r * r)) * n;
    RTCRay ray{};
    ray.org_x = from.x;
    ray.org_y = from.y;
    ray.org_z = from.z;
    ray.dir_x = d.x;
    ray.dir_y = d.y;
    ray.dir_z = d.z;
    ray.tfar = std::numeric_limits<float>::infinity();
    ray.mask = ~0U;
    RTCIntersectContext context;
    rtcInitIntersectContext(&context);
    rtcOccluded1(scene_.get(), &context, &ray);
    if (ray.tfar > 0) ++open;
  }
  return static_cast<float>(open) / (strata * strata);
}

namespace {

// A shot with the triangle that each pixel shows.
struct Sight {
  camera::Camera camera;
  visibility::VisibilityBuffer seen;
  visibility::IdBuffer triangles;
};

// Whether a bare pixel lies on the wall within reach of this one, along 16 ways to its sides.
bool nearGap(const Sight& sight, const scene::PanelGrid& panels, int x, int y, double reach_mm) {
  const float inverse = sight.seen.inverse_depths[sight.seen.offset(x, y)];
  const double reach_px = reach_mm * sight.camera.focal_px * inverse;
  for (int way = 0; way < 16; ++way) {
    const double angle = way * pi / 8;
    for (double r = 0; r <= reach_px; r += 1) {
      const int nx = x + static_cast<int>(std::lround(r * std::cos(angle)));
      const int ny = y + static_cast<int>(std::lround(r * std::sin(angle)));
      if (nx < 0 || ny < 0 || nx >= sight.seen.width_px || ny >= sight.seen.height_px) break;
      if (gaps::isBare(sight.seen.id(nx, ny), panels)) return true;
    }
  }
  return false;
}

PlaceInSight placeAt(const Sight& sight, const light::Surfaces& surfaces, int x, int y) {
  const PixelPoint pixel{{x + 0.5, y + 0.5}};
  if (sight.seen.id(x, y).sees() != visibility::Sees::bloom) {
    return {{glm::vec3(camera::boardPointOf(sight.camera, pixel)->mm, 0.0F), {0, 0, 1}}, 0};
  }
  const light::Ray ray{glm::vec3(sight.camera.position.mm),
                       glm::vec3(camera::rayDirection(sight.camera, pixel))};
  const light::SurfacePoint found = surfaces.at(sight.triangles.id(x, y), ray);
  return {{found.point, found.face}, sight.triangles.id(x, y)};
}

}  // namespace

std::vector<PlaceInSight> placesNearGaps(const scene::Scene& scene, std::span<const camera::Camera> cameras,
                                         std::size_t count, double reach_mm, std::uint64_t seed) {
  std::vector<Sight> sights;
  const light::Surfaces surfaces(scene);
  visibility::VisibilityRenderer renderer(testing::allThreads());
  visibility::Rasteriser rasteriser(testing::allThreads());
  for (const camera::Camera& camera : cameras) {
    Sight& sight = sights.emplace_back();
    sight.camera = camera;
    renderer.render(scene, camera, {}, {}, sight.seen);
    rasteriser.draw(surfaces.blooms(), visibility::rasterViewOf(camera), sight.triangles);
  }
  std::mt19937_64 random(seed);
  std::vector<PlaceInSight> places;
  while (places.size() < count) {
    const Sight& sight = sights[places.size() % sights.size()];
    const int x = std::uniform_int_distribution<int>(0, sight.seen.width_px - 1)(random);
    const int y = std::uniform_int_distribution<int>(0, sight.seen.height_px - 1)(random);
    const visibility::Sees sees = sight.seen.id(x, y).sees();
    if (sees != visibility::Sees::bloom && sees != visibility::Sees::board) continue;
    if (sees == visibility::Sees::bloom && !nearGap(sight, scene.panels, x, y, reach_mm)) continue;
    places.push_back(placeAt(sight, surfaces, x, y));
  }
  return places;
}

}  // namespace petalproof::testing
