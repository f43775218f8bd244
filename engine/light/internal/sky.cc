#include "engine/light/internal/sky.h"

#include "engine/light/internal/front_light.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace petalproof::light {
namespace {

constexpr int dome_lamps = 112;
constexpr int key_lamps = 10;
constexpr int few_dome_lamps = 6;
constexpr int few_key_lamps = 2;
constexpr double key_radius = 0.24;  // of the disc of key lamps, at unit distance

// Band by band of z, and in each by the way they point to.
void putNeighboursTogether(std::vector<SkyLamp>& lamps) {
  constexpr std::ptrdiff_t in_band = 32;
  const auto lower = [](const SkyLamp& a, const SkyLamp& b) { return a.towards.z < b.towards.z; };
  const auto angle = [](const SkyLamp& lamp) { return std::atan2(lamp.towards.y, lamp.towards.x); };
  std::sort(lamps.begin(), lamps.end(), lower);
  for (auto band = lamps.begin(); band != lamps.end();) {
    const auto end = band + std::min(in_band, lamps.end() - band);
    std::sort(band, end, [&](const SkyLamp& a, const SkyLamp& b) { return angle(a) < angle(b); });
    band = end;
  }
}

// A spiral with a density over z of (1 + 2 z) / 2, between even directions (best for petals that stand up)
// and directions by cosine (best for the board): z is where its integral (z + z^2) / 2 has the share
// (k + 1/2) / n.
std::vector<SkyLamp> spiral(int count) {
  std::vector<SkyLamp> lamps;
  double on_board = 0;
  for (int k = 0; k < count; ++k) {
    const double z = (std::sqrt(1 + 8 * (k + 0.5) / count) - 1) / 2;
    const double r = std::sqrt(1 - z * z);
    const double weight = 1 / (0.5 + z);
    lamps.push_back({glm::vec3(r * std::cos(goldenAngle() * k), r * std::sin(goldenAngle() * k), z),
                     static_cast<float>(weight), 0});
    on_board += weight * z;
  }
  for (SkyLamp& lamp : lamps) lamp.dome /= static_cast<float>(on_board);
  putNeighboursTogether(lamps);
  return lamps;
}

// The broad lamp's disc, even.
void addKey(int count, std::vector<SkyLamp>& lamps) {
  const std::vector<glm::dvec3> key = keyDirections(count, key_radius);
  double on_board = 0;
  for (const glm::dvec3& d : key) on_board += d.z;
  for (const glm::dvec3& d : key) lamps.push_back({glm::vec3(d), 0, static_cast<float>(1 / on_board)});
}

}  // namespace

std::vector<SkyLamp> domeLamps() { return spiral(dome_lamps); }

std::vector<SkyLamp> skyLamps() {
  std::vector<SkyLamp> lamps = spiral(dome_lamps);
  addKey(key_lamps, lamps);
  return lamps;
}

std::vector<SkyLamp> fewSkyLamps() {
  std::vector<SkyLamp> lamps = spiral(few_dome_lamps);
  addKey(few_key_lamps, lamps);
  return lamps;
}

glm::vec3 lightOf(float dome, float key) {
  const glm::vec3 sum = key_share * key_colour + (1 - key_share) * dome_colour;
  return (key_share * key_colour / sum) * key + ((1 - key_share) * dome_colour / sum) * dome;
}

}  // namespace petalproof::light
