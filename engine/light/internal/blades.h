#pragma once
// Triangles of paper that may keep light away, one by one and several side by side.

#include "engine/light/internal/lit_spots.h"

#include <glm/vec3.hpp>

#include <cstddef>

namespace petalproof::light {

// A triangle by its corners.
struct Blade {
  glm::vec3 a{0};
  glm::vec3 b{0};
  glm::vec3 c{0};
};

struct BladeBounds {
  glm::vec3 low{0};
  glm::vec3 high{0};
};
BladeBounds boundsOf(const Blade& blade);

// Blades for loops that take eight at a time: corners and bounds in rows, filled up with blades that are far
// from everything.
struct BladeRows {
  VectorRow a;
  VectorRow b;
  VectorRow c;
  VectorRow low;
  VectorRow high;

  std::size_t size() const { return low.x.size(); }  // a multiple of eight
  void clear();
  void push_back(const Blade& blade);
  void fillUp();
};

}  // namespace petalproof::light
