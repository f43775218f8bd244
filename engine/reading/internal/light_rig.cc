#include "engine/reading/internal/light_rig.h"

#include "engine/base/units.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace petalproof {
namespace {

constexpr int dome_lamps = 16;
constexpr int key_lamps = 7;
constexpr double golden_angle = pi * (3.0 - 2.2360679774997896);
constexpr glm::dvec3 key_direction{-0.46, 0.62, 0.64};
constexpr double key_radius = 0.2;  // of the disc of key lamps, at unit distance
constexpr float key_share = 0.58F;  // of the light on a flat board
constexpr glm::vec3 key_colour{1.03F, 1.0F, 0.95F};
constexpr glm::vec3 dome_colour{0.96F, 1.0F, 1.07F};

// Spread over the front half-space by a spiral; none grazes the wall.
std::vector<glm::vec3> domeDirections() {
  std::vector<glm::vec3> directions;
  for (int k = 0; k < dome_lamps; ++k) {
    const double z = 0.16 + 0.82 * (k + 0.5) / dome_lamps;
    const double r = std::sqrt(1 - z * z);
    directions.emplace_back(r * std::cos(golden_angle * k), r * std::sin(golden_angle * k), z);
  }
  return directions;
}

std::vector<glm::vec3> keyDirections() {
  const glm::dvec3 axis = glm::normalize(key_direction);
  const glm::dvec3 across = glm::normalize(glm::cross(glm::dvec3(0, 1, 0), axis));
  const glm::dvec3 up = glm::cross(axis, across);
  std::vector<glm::vec3> directions;
  for (int k = 0; k < key_lamps; ++k) {
    const double r = key_radius * std::sqrt((k + 0.5) / key_lamps);
    const double angle = golden_angle * k;
    directions.emplace_back(glm::normalize(axis + r * (std::cos(angle) * across + std::sin(angle) * up)));
  }
  return directions;
}

float onFlatBoard(const std::vector<glm::vec3>& directions) {
  float sum = 0;
  for (const glm::vec3& d : directions) sum += paperResponse(d.z).reflected;
  return sum;
}

}  // namespace

std::vector<Lamp> frontLight() {
  const std::vector<glm::vec3> dome = domeDirections();
  const std::vector<glm::vec3> key = keyDirections();
  const glm::vec3 sum = key_share * key_colour + (1 - key_share) * dome_colour;
  const glm::vec3 key_power = key_share * key_colour / sum / onFlatBoard(key);
  const glm::vec3 dome_power = (1 - key_share) * dome_colour / sum / onFlatBoard(dome);
  std::vector<Lamp> lamps;
  for (const glm::vec3& d : key) lamps.push_back({d, key_power, 1536});
  for (const glm::vec3& d : dome) lamps.push_back({d, dome_power, 768});
  return lamps;
}

}  // namespace petalproof
