#include "engine/scene/shapes.h"

#include "engine/scene/person.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

using namespace petalproof;

namespace {

ShapeSpec usual(const ShapeFacts& facts) {
  return {.shape = facts.shape,
          .diameter_mm = 300,
          .width_mm = 300 * facts.width_share,
          .depth_mm = 300 * facts.depth_share};
}

struct Extent {
  double farthest = 0;
  double low = 1e9;
  double high = -1e9;
};

Extent extentOf(const Mesh& mesh) {
  Extent extent;
  for (const glm::dvec3 p : mesh.vertices) {
    extent.farthest = std::max(extent.farthest, std::hypot(p.x, p.y));
    extent.low = std::min(extent.low, p.z);
    extent.high = std::max(extent.high, p.z);
  }
  return extent;
}

}  // namespace

TEST_CASE("every shape is exact in size") {
  for (const ShapeFacts& facts : allShapes())
    for (const double variation : {0.0, 1.0}) {
      CAPTURE(facts.name);
      ShapeSpec spec = usual(facts);
      spec.variation = variation;
      spec.copy_hash = 77;
      const Mesh mesh = makeShape(spec);
      const Extent extent = extentOf(mesh);
      CHECK(extent.farthest == doctest::Approx(150).epsilon(1e-3));
      CHECK(extent.high == doctest::Approx(spec.depth_mm).epsilon(1e-5));
      CHECK(extent.low == 0.0);
      CHECK(mesh.triangles.size() >= 100);
      CHECK(mesh.triangles.size() <= 600);
      CHECK(mesh.tint.size() == mesh.vertices.size());
    }
}
