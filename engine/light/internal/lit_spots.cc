#include "engine/light/internal/lit_spots.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace petalproof::light {
namespace {

constexpr float steps_per_mm = 128;
constexpr float steps_per_unit = 1024;
constexpr std::uint32_t free_place = 0xffffffffU;

std::int32_t stepsOf(float value, float per_unit) {
  return static_cast<std::int32_t>(std::lround(value * per_unit));
}

glm::vec3 unitOf(std::int32_t x, std::int32_t y, std::int32_t z) {
  const glm::vec3 v(static_cast<float>(x), static_cast<float>(y), static_cast<float>(z));
  return glm::normalize(v);
}

// FNV-1a, by whole numbers, with its upper bits mixed in.
std::size_t hashOf(std::span<const std::int32_t> key) {
  std::uint64_t hash = 0xcbf29ce484222325U;
  for (const std::int32_t part : key) hash = (hash ^ static_cast<std::uint32_t>(part)) * 0x100000001b3U;
  return static_cast<std::size_t>(hash ^ (hash >> 29U));
}

}  // namespace

void SharedSpots::push_back(const LitSpot& spot) {
  if (2 * (keys_.size() + 1) > table_.size()) grow();
  const auto& [p, n, f] = spot;
  const Key key{stepsOf(p.x, steps_per_mm),   stepsOf(p.y, steps_per_mm),   stepsOf(p.z, steps_per_mm),
                stepsOf(n.x, steps_per_unit), stepsOf(n.y, steps_per_unit), stepsOf(n.z, steps_per_unit),
                stepsOf(f.x, steps_per_unit), stepsOf(f.y, steps_per_unit), stepsOf(f.z, steps_per_unit)};
  std::size_t at = hashOf(key) & (table_.size() - 1);
  while (table_[at] != free_place && keys_[table_[at]] != key) at = (at + 1) & (table_.size() - 1);
  if (table_[at] == free_place) {
    table_[at] = static_cast<std::uint32_t>(keys_.size());
    keys_.push_back(key);
    const glm::vec3 point(static_cast<float>(key[0]), static_cast<float>(key[1]), static_cast<float>(key[2]));
    unique_.push_back({point / steps_per_mm, unitOf(key[3], key[4], key[5]), unitOf(key[6], key[7], key[8])});
  }
  which_.push_back(table_[at]);
}

void SharedSpots::grow() {
  table_.assign(std::max<std::size_t>(1024, 2 * table_.size()), free_place);
  for (std::uint32_t k = 0; k < keys_.size(); ++k) {
    std::size_t at = hashOf(keys_[k]) & (table_.size() - 1);
    while (table_[at] != free_place) at = (at + 1) & (table_.size() - 1);
    table_[at] = k;
  }
}

}  // namespace petalproof::light
