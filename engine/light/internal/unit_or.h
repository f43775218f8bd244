#pragma once

#include <glm/geometric.hpp>
#include <glm/vec3.hpp>

namespace petalproof::light {

// `v` at length 1; where it has none, `otherwise`.
inline glm::vec3 unitOr(const glm::vec3& v, const glm::vec3& otherwise) {
  const float length = glm::length(v);
  return length > 0 ? v / length : otherwise;
}

}  // namespace petalproof::light
