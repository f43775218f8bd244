#include "engine/camera/framing_warnings.h"

#include "engine/base/length_text.h"
#include "engine/camera/projection.h"

#include <fmt/format.h>

#include <array>
#include <cstddef>

namespace petalproof::camera {
namespace {

using Polygon = std::vector<glm::dvec3>;  // homogeneous pixels

// The part of a convex polygon where dot(side, point) >= 0 (I. Sutherland, G. Hodgman, "Reentrant polygon
// clipping", CACM 17(1), 1974).
Polygon clipped(const Polygon& polygon, const glm::dvec3& side) {
  const auto insideBy = [&](const glm::dvec3& p) { return side.x * p.x + side.y * p.y + side.z * p.z; };
  Polygon kept;
  for (std::size_t k = 0; k < polygon.size(); ++k) {
    const glm::dvec3& a = polygon[k];
    const glm::dvec3& b = polygon[(k + 1) % polygon.size()];
    const double at_a = insideBy(a);
    const double at_b = insideBy(b);
    if (at_a >= 0) kept.push_back(a);
    if ((at_a < 0) != (at_b < 0)) kept.push_back(a + (b - a) * (at_a / (at_a - at_b)));
  }
  return kept;
}

bool seesTheWall(const Camera& camera, const WallFrame& wall) {
  const glm::dmat3 pixel = pixelFromBoard(camera);
  const double w = wall.width_mm;
  const double h = wall.height_mm;
  Polygon outline = {pixel * glm::dvec3(0, 0, 1), pixel * glm::dvec3(w, 0, 1), pixel * glm::dvec3(w, h, 1),
                     pixel * glm::dvec3(0, h, 1)};
  const std::array<glm::dvec3, 5> sides = {glm::dvec3(0, 0, 1), glm::dvec3(1, 0, 0),
                                           glm::dvec3(-1, 0, camera.width_px), glm::dvec3(0, 1, 0),
                                           glm::dvec3(0, -1, camera.height_px)};
  for (const glm::dvec3& side : sides) outline = clipped(outline, side);
  return !outline.empty();
}

}  // namespace

std::vector<std::string> framingWarnings(const Camera& camera, const plan::Shot& shot, const WallFrame& wall,
                                         const plan::Room& room) {
  std::vector<std::string> warnings;
  if (!seesTheWall(camera, wall)) warnings.push_back("the wall is wholly out of the picture");
  if (room.depth && shot.camera_out > *room.depth)
    warnings.push_back(
        fmt::format("the camera stands {} out from the board, but the room has only {} of free floor",
                    walkText(toMillimetres(shot.camera_out, wall.units), wall.units),
                    walkText(toMillimetres(*room.depth, wall.units), wall.units)));
  return warnings;
}

}  // namespace petalproof::camera
