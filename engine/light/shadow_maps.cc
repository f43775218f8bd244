#include "engine/light/shadow_maps.h"

#include <glm/geometric.hpp>
#include <glm/mat3x3.hpp>
#include <glm/matrix.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace petalproof::light {
namespace {

constexpr double distance_in_radii = 12;  // far enough to count as parallel light

// Axes of a lamp's frame as rows: x, y across, z towards the lamp.
glm::dmat3 lampFromWallAxes(const glm::vec3& towards) {
  const glm::dvec3 z = glm::normalize(glm::dvec3(towards));
  const glm::dvec3 x = glm::normalize(glm::cross(glm::dvec3(0, 1, 0), z));
  return glm::transpose(glm::dmat3(x, glm::cross(z, x), z));
}

std::array<glm::dvec3, 8> cornersOf(const Box& box) {
  std::array<glm::dvec3, 8> corners;
  for (std::size_t k = 0; k < corners.size(); ++k) {
    corners[k] = {(k & 1) != 0 ? box.max_mm.x : box.min_mm.x, (k & 2) != 0 ? box.max_mm.y : box.min_mm.y,
                  (k & 4) != 0 ? box.max_mm.z : box.min_mm.z};
  }
  return corners;
}

// A view from far along `towards` that just holds the box.
visibility::RasterView viewOf(const glm::vec3& towards, const Box& box, int size_px) {
  const glm::dmat3 axes = lampFromWallAxes(towards);
  const glm::dvec3 middle = (box.min_mm + box.max_mm) / 2.0;
  const double distance = distance_in_radii * std::max(1.0, glm::distance(box.min_mm, box.max_mm) / 2);
  const glm::dvec3 lamp = middle + distance * glm::dvec3(towards);
  glm::dvec2 least(std::numeric_limits<double>::infinity());
  glm::dvec2 most(-std::numeric_limits<double>::infinity());
  for (const glm::dvec3& corner : cornersOf(box)) {
    const glm::dvec3 p = axes * (corner - lamp);
    const glm::dvec2 seen(p.x / -p.z, p.y / -p.z);
    least = glm::min(least, seen);
    most = glm::max(most, seen);
  }
  const glm::dvec2 extent = most - least;
  visibility::RasterView view;
  view.cameraFromWorld = glm::dmat4x3(axes[0], axes[1], axes[2], -(axes * lamp));
  view.focal_px = size_px / std::max(extent.x, extent.y);
  view.principal_px = {-least.x * view.focal_px, most.y * view.focal_px};
  view.width_px = std::max(1, static_cast<int>(std::ceil(extent.x * view.focal_px)));
  view.height_px = std::max(1, static_cast<int>(std::ceil(extent.y * view.focal_px)));
  return view;
}

}  // namespace

ShadowMaps::ShadowMaps(const std::vector<Lamp>& lamps, std::span<const visibility::TriangleBatch> casters,
                       const Box& place, visibility::Rasteriser& rasteriser) {
  visibility::IdBuffer seen;
  for (const Lamp& lamp : lamps) {
    const visibility::RasterView view = viewOf(lamp.towards, place, lamp.map_px);
    rasteriser.draw(casters, view, seen);
    Map map;
    map.lampFromWall = view.cameraFromWorld;
    map.towards = lamp.towards;
    map.focal_px = static_cast<float>(view.focal_px);
    map.principal_px = view.principal_px;
    const glm::dvec3 middle = view.cameraFromWorld * glm::dvec4((place.min_mm + place.max_mm) / 2.0, 1.0);
    map.pixel_mm = static_cast<float>(-middle.z / view.focal_px);
    map.width_px = view.width_px;
    map.last_u = static_cast<float>(view.width_px - 1);
    map.last_v = static_cast<float>(view.height_px - 1);
    map.inverse_depths = seen.inverse_depths;
    maps_.push_back(std::move(map));
  }
}

float ShadowMaps::reaching(std::size_t lamp, const glm::vec3& point, const glm::vec3& normal) const {
  const Map& map = maps_[lamp];
  // Off the surface on the lamp's side, by about a pixel, so that a surface doesn't shade itself.
  const float side = glm::dot(normal, map.towards) < 0 ? -1.0F : 1.0F;
  const glm::vec3 lifted =
      point + normal * (side * 1.2F * map.pixel_mm) + map.towards * (map.pixel_mm + 0.6F);
  const glm::vec3 p = map.lampFromWall * glm::vec4(lifted, 1.0F);
  const float inverse = -1.0F / p.z;
  const float u = map.principal_px.x + map.focal_px * p.x * inverse - 0.5F;
  const float v = map.principal_px.y - map.focal_px * p.y * inverse - 0.5F;
  if (!(u >= 0 && v >= 0 && u < map.last_u && v < map.last_v)) return 1.0F;
  const int x = static_cast<int>(u);
  const int y = static_cast<int>(v);
  const float fx = u - static_cast<float>(x);
  const float fy = v - static_cast<float>(y);
  const float* row = map.inverse_depths.data() +
                     static_cast<std::size_t>(y) * static_cast<std::size_t>(map.width_px) +
                     static_cast<std::size_t>(x);
  const float* next = row + map.width_px;
  const auto open = [inverse](float seen) { return seen <= inverse ? 1.0F : 0.0F; };
  return (open(row[0]) * (1 - fx) + open(row[1]) * fx) * (1 - fy) +
         (open(next[0]) * (1 - fx) + open(next[1]) * fx) * fy;
}

}  // namespace petalproof::light
