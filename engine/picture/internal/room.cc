#include "engine/picture/internal/room.h"

#include "engine/visibility/visibility_buffer.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace petalproof::picture {
namespace {

constexpr float back_wall_mm = -900;  // of the room, behind the board plane
constexpr float room_height_mm = 3200;

float smoothStep(float from, float to, float x) {
  const float t = std::clamp((x - from) / (to - from), 0.0F, 1.0F);
  return t * t * (3 - 2 * t);
}

// The room's wall: lighter at about head height, falling off upwards and to the floor.
float backWallLight(float above_floor_mm) {
  const float rise = smoothStep(0, 1300, above_floor_mm);
  const float fall = smoothStep(1400, room_height_mm, above_floor_mm);
  return 0.74F + 0.2F * rise - 0.18F * fall;
}

// The floor: its own shade, with the soft shadow of the planned wall on it.
float floorLight(const scene::PanelGrid& panels, const glm::vec3& place) {
  const auto width = static_cast<float>(panels.width_mm());
  const float beside = std::max({-place.x, place.x - width, 0.0F});
  const float away = std::hypot(beside, place.z < 0 ? -place.z * 0.6F : place.z);
  return 0.66F - 0.2F * (1 - smoothStep(0, 420, away)) + 0.1F * smoothStep(0, 2500, place.z);
}

}  // namespace

glm::vec3 roomColour(const scene::PanelGrid& panels, const glm::vec3& colour, const light::Ray& ray) {
  const auto floor_y = static_cast<float>(-panels.above_floor_mm);
  const glm::vec3 towards = glm::normalize(ray.towards);
  const float to_wall = towards.z < 0 ? (back_wall_mm - ray.from.z) / towards.z : 1e9F;
  const float to_floor = towards.y < 0 && ray.from.y > floor_y ? (floor_y - ray.from.y) / towards.y : 1e9F;
  if (to_floor < to_wall) return colour * floorLight(panels, ray.from + to_floor * towards);
  return colour * backWallLight(ray.from.y + to_wall * towards.y - floor_y);
}

float lightInSlit(double open_mm, double depth_mm) {
  return static_cast<float>(open_mm / (open_mm + 1.6 * std::max(depth_mm, 0.0)));
}

double openingAt(const scene::PanelGrid& panels, BoardPoint place) {
  if (visibility::boardPlaneAt(panels, place).sees() == visibility::Sees::seam) return panels.seam_mm;
  return std::min(panels.panel_width_mm, panels.panel_height_mm);
}

}  // namespace petalproof::picture
