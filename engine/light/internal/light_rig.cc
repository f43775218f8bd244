#include "engine/light/internal/light_rig.h"

#include "engine/light/internal/front_light.h"

#include <cmath>

namespace petalproof::light {
namespace {

constexpr int rig_dome_lamps = 16;
constexpr int rig_key_lamps = 7;
constexpr double rig_key_radius = 0.2;  // of the disc of key lamps, at unit distance

// Spread over the front half-space by a spiral; none grazes the wall.
std::vector<glm::vec3> domeDirections() {
  std::vector<glm::vec3> directions;
  for (int k = 0; k < rig_dome_lamps; ++k) {
    const double z = 0.16 + 0.82 * (k + 0.5) / rig_dome_lamps;
    const double r = std::sqrt(1 - z * z);
    directions.emplace_back(r * std::cos(goldenAngle() * k), r * std::sin(goldenAngle() * k), z);
  }
  return directions;
}

std::vector<glm::vec3> keyLampDirections() {
  std::vector<glm::vec3> directions;
  for (const glm::dvec3& d : keyDirections(rig_key_lamps, rig_key_radius)) directions.emplace_back(d);
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
  const std::vector<glm::vec3> key = keyLampDirections();
  const glm::vec3 sum = key_share * key_colour + (1 - key_share) * dome_colour;
  const glm::vec3 key_power = key_share * key_colour / sum / onFlatBoard(key);
  const glm::vec3 dome_power = (1 - key_share) * dome_colour / sum / onFlatBoard(dome);
  std::vector<Lamp> lamps;
  for (const glm::vec3& d : key) lamps.push_back({d, key_power, 1536});
  for (const glm::vec3& d : dome) lamps.push_back({d, dome_power, 768});
  return lamps;
}

}  // namespace petalproof::light
