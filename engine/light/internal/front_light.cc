#include "engine/light/internal/front_light.h"

#include "engine/base/units.h"

#include <glm/geometric.hpp>

#include <cmath>

namespace petalproof::light {
namespace {

constexpr glm::dvec3 key_direction{-0.46, 0.62, 0.64};

}  // namespace

double goldenAngle() { return pi * (3.0 - 2.2360679774997896); }

std::vector<glm::dvec3> keyDirections(int count, double radius) {
  const glm::dvec3 axis = glm::normalize(key_direction);
  const glm::dvec3 across = glm::normalize(glm::cross(glm::dvec3(0, 1, 0), axis));
  const glm::dvec3 up = glm::cross(axis, across);
  std::vector<glm::dvec3> directions;
  for (int k = 0; k < count; ++k) {
    const double r = radius * std::sqrt((k + 0.5) / count);
    const double angle = goldenAngle() * k;
    directions.push_back(glm::normalize(axis + r * (std::cos(angle) * across + std::sin(angle) * up)));
  }
  return directions;
}

}  // namespace petalproof::light
