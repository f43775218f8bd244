#include "engine/visibility/internal/batch_view.h"

#include <glm/common.hpp>
#include <glm/mat4x4.hpp>

#include <algorithm>
#include <array>
#include <limits>

namespace petalproof::visibility {

glm::dmat4x3 cameraFromBatch(const TriangleBatch& batch, const RasterView& view) {
  return view.cameraFromWorld * glm::dmat4(glm::dmat4x3(batch.worldFromBatch));
}

bool isBeside(const TriangleBatch& batch, const glm::dmat4x3& transform, const RasterView& view) {
  constexpr double margin_px = 2;  // more than snapping moves a corner
  glm::vec3 low(std::numeric_limits<float>::max());
  glm::vec3 high(std::numeric_limits<float>::lowest());
  for (const glm::vec3& vertex : batch.vertices) {
    low = glm::min(low, vertex);
    high = glm::max(high, vertex);
  }
  std::array<bool, 4> beyond{true, true, true, true};
  for (int corner = 0; corner < 8; ++corner) {
    const glm::dvec3 p =
        transform * glm::dvec4((corner & 1) != 0 ? high.x : low.x, (corner & 2) != 0 ? high.y : low.y,
                               (corner & 4) != 0 ? high.z : low.z, 1.0);
    const double right = view.focal_px * p.x;
    const double down = -view.focal_px * p.y;
    const glm::dvec2 first = -view.principal_px - margin_px;
    const glm::dvec2 last = glm::dvec2(view.width_px, view.height_px) - view.principal_px + margin_px;
    beyond[0] = beyond[0] && right < first.x * -p.z;
    beyond[1] = beyond[1] && right > last.x * -p.z;
    beyond[2] = beyond[2] && down < first.y * -p.z;
    beyond[3] = beyond[3] && down > last.y * -p.z;
  }
  return std::any_of(beyond.begin(), beyond.end(), [](bool side) { return side; });
}

}  // namespace petalproof::visibility
