#include "engine/visibility/internal/clip.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <limits>
#include <span>
#include <tuple>

namespace petalproof::visibility {
namespace {

// Keeps the points p with dot(normal, p) >= offset.
struct ClipPlane {
  glm::dvec3 normal;
  double offset;
  double above(const glm::dvec3& p) const { return glm::dot(normal, p) - offset; }
};

// Computed from the lesser corner to the greater one, so that the order of a triangle's corners doesn't
// matter.
glm::dvec3 cut(glm::dvec3 a, glm::dvec3 b, const ClipPlane& plane) {
  if (std::tie(b.x, b.y, b.z) < std::tie(a.x, a.y, a.z)) std::swap(a, b);
  const double above_a = plane.above(a);
  const double above_b = plane.above(b);
  return a + (b - a) * (above_a / (above_a - above_b));
}

// Sutherland and Hodgman, "Reentrant polygon clipping", Communications of the ACM 17 (1974).
ClippedPolygon clipped(const ClippedPolygon& polygon, const ClipPlane& plane) {
  ClippedPolygon kept;
  const auto add = [&kept](const glm::dvec3& p) { kept.corners[static_cast<std::size_t>(kept.count++)] = p; };
  for (int i = 0; i < polygon.count; ++i) {
    const glm::dvec3& a = polygon.corners[static_cast<std::size_t>(i)];
    const glm::dvec3& b = polygon.corners[static_cast<std::size_t>((i + 1) % polygon.count)];
    const bool a_in = plane.above(a) >= 0;
    const bool b_in = plane.above(b) >= 0;
    if (a_in) add(a);
    if (a_in != b_in) add(cut(a, b, plane));
  }
  return kept;
}

ClippedPolygon clippedToAll(const std::array<glm::dvec3, 3>& triangle, std::span<const ClipPlane> planes) {
  ClippedPolygon polygon;
  std::copy(triangle.begin(), triangle.end(), polygon.corners.begin());
  polygon.count = 3;
  for (const ClipPlane& plane : planes) polygon = clipped(polygon, plane);
  return polygon;
}

// left <= x / -z <= right, bottom <= y / -z <= top, and the near plane.
std::array<ClipPlane, 5> frustum(double left, double right, double bottom, double top) {
  return {{{{0, 0, -1}, near_mm},
           {{1, 0, left}, 0},
           {{-1, 0, -right}, 0},
           {{0, 1, bottom}, 0},
           {{0, -1, -top}, 0}}};
}

}  // namespace

ClippedPolygon clipToGuard(const std::array<glm::dvec3, 3>& triangle, const RasterView& view) {
  const glm::dvec2 off = fromMiddle(view);
  return clippedToAll(triangle,
                      frustum((-guard_px - off.x) / view.focal_px, (guard_px - off.x) / view.focal_px,
                              (off.y - guard_px) / view.focal_px, (off.y + guard_px) / view.focal_px));
}

double nearestInPicture(const std::array<glm::dvec3, 3>& triangle, const RasterView& view) {
  constexpr double margin_px = 1;  // more than snapping moves a corner
  const ClippedPolygon seen =
      clippedToAll(triangle, frustum((-margin_px - view.principal_px.x) / view.focal_px,
                                     (view.width_px + margin_px - view.principal_px.x) / view.focal_px,
                                     (view.principal_px.y - view.height_px - margin_px) / view.focal_px,
                                     (view.principal_px.y + margin_px) / view.focal_px));
  double nearest = std::numeric_limits<double>::infinity();
  for (int i = 0; i < seen.count; ++i)
    nearest = std::min(nearest, -seen.corners[static_cast<std::size_t>(i)].z);
  return nearest;
}

}  // namespace petalproof::visibility
