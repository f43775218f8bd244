#include "engine/light/internal/blades.h"

#include "engine/light/internal/lanes.h"

#include <glm/common.hpp>

namespace petalproof::light {
namespace {

constexpr float far_away_mm = 1e9F;

void clearRow(VectorRow& row) {
  row.x.clear();
  row.y.clear();
  row.z.clear();
}

}  // namespace

BladeBounds boundsOf(const Blade& blade) {
  return {glm::min(blade.a, glm::min(blade.b, blade.c)), glm::max(blade.a, glm::max(blade.b, blade.c))};
}

void BladeRows::clear() {
  for (VectorRow* row : {&a, &b, &c, &low, &high}) clearRow(*row);
}

void BladeRows::push_back(const Blade& blade) {
  a.push_back(blade.a);
  b.push_back(blade.b);
  c.push_back(blade.c);
  const BladeBounds bounds = boundsOf(blade);
  low.push_back(bounds.low);
  high.push_back(bounds.high);
}

void BladeRows::fillUp() {
  const glm::vec3 nowhere(far_away_mm);
  while (size() % lanes != 0) push_back({nowhere, nowhere, nowhere});
}

}  // namespace petalproof::light
