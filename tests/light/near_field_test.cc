#include "engine/light/internal/near_field.h"

#include "engine/light/internal/wall_light.h"
#include "tests/support/random_wall.h"

#include <doctest/doctest.h>
#include <glm/common.hpp>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cstddef>
#include <random>
#include <vector>

using namespace petalproof;
using namespace petalproof::light;

namespace {

// Whether a triangle's bounds come within reach and one of its corners rises above the place's plane.
bool isAbove(const Blade& blade, const glm::vec3& place, const glm::vec3& normal) {
  const glm::vec3 low = glm::min(blade.a, glm::min(blade.b, blade.c));
  const glm::vec3 high = glm::max(blade.a, glm::max(blade.b, blade.c));
  if (glm::distance(glm::clamp(place, low, high), place) >= NearField::reach_mm) return false;
  const auto height = [&](const glm::vec3& corner) { return glm::dot(corner - place, normal); };
  return std::max(height(blade.a), std::max(height(blade.b), height(blade.c))) > NearField::touching_mm;
}

}  // namespace

TEST_CASE("a search among near paper finds what looking at each triangle finds") {
  const TriangleSoup soup = bloomsOf(testing::randomWall({2, 2, 4, 1.5, 21}));
  const NearField field(soup);
  std::mt19937 random(5);
  std::uniform_real_distribution<float> along(-100, 1100);
  std::uniform_real_distribution<float> out(-5, 120);
  std::uniform_real_distribution<float> any(-1, 1);
  VectorRow places;
  for (int k = 0; k < 300; ++k) places.push_back({along(random), along(random), out(random)});
  for (int k = 0; k < 300; ++k)  // and on paper
    places.push_back(soup.vertices[random() % soup.vertices.size()]);
  const std::vector<std::uint32_t> order = field.byCell(places);
  std::vector<std::uint32_t> sorted = order;
  std::sort(sorted.begin(), sorted.end());
  for (std::size_t k = 0; k < sorted.size(); ++k) REQUIRE(sorted[k] == k);

  NearField::Search search(field);
  std::size_t found_in_all = 0;
  for (const std::uint32_t k : order) {
    const glm::vec3 place = places.at(k);
    const glm::vec3 normal = glm::normalize(glm::vec3(any(random), any(random), 1.5F));
    std::size_t expected = 0;
    for (const auto& [a, b, c] : soup.triangles)
      expected += isAbove({soup.vertices[a], soup.vertices[b], soup.vertices[c]}, place, normal) ? 1 : 0;
    const auto found = search.findAbove(place, normal);
    CAPTURE(k);
    CHECK(found.size() == expected);
    for (const Blade& blade : found) CHECK(isAbove(blade, place, normal));
    found_in_all += found.size();
  }
  CHECK(found_in_all > 1000);
}
