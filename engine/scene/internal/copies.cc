#include "engine/scene/internal/copies.h"

#include "engine/base/units.h"
#include "engine/scene/shapes.h"

namespace petalproof::scene {

glm::mat4x3 wallFromMesh(const glm::dvec2& at_mm, double raised_mm, double turn_deg) {
  const double a = radians(turn_deg);  // clockwise seen from the front
  return glm::mat4x3(glm::dmat4x3(std::cos(a), -std::sin(a), 0.0, std::sin(a), std::cos(a), 0.0, 0.0, 0.0,
                                  1.0, at_mm.x, at_mm.y, raised_mm));
}

Mesh meshOfVariant(const Kind& kind, const plan::Plan& plan, std::uint64_t variant) {
  if (kind.own) return *kind.own;
  ShapeSpec spec = kind.spec;
  spec.copy_hash = hashOf({plan.seed, variant});
  spec.variation = plan.variation;
  return makeShape(spec);
}

}  // namespace petalproof::scene
