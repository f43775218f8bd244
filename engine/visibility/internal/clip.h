#pragma once
// Clips triangles in the camera frame, in double precision, before they are projected. Both rasterisers call
// it for triangles that reach behind the camera or far out of the picture.

#include "engine/visibility/rasteriser.h"

#include <glm/vec3.hpp>

#include <array>
#include <cmath>

namespace petalproof::visibility {

// Nothing nearer to the camera plane than this is drawn: depths there would be divided by nearly 0.
constexpr double near_mm = 1e-3;

// Projected corners stay within this many pixels of the picture's middle, and no picture is larger than
// `largest_side_px`: the bounds that the exact arithmetic of edges rests on
// (engine/visibility/internal/kernel/spans.h). Larger pictures are drawn in parts.
constexpr double guard_px = 1 << 15;
constexpr int largest_side_px = 1 << 15;

// Each of five planes adds at most one corner to a triangle's three.
struct ClippedPolygon {
  std::array<glm::dvec3, 8> corners;
  int count = 0;
};

// From the picture's middle to the principal point, px.
inline glm::dvec2 fromMiddle(const RasterView& view) {
  return view.principal_px - glm::dvec2(view.width_px, view.height_px) * 0.5;
}

inline bool insideGuard(const glm::dvec3& p, const RasterView& view) {
  const glm::dvec2 off = fromMiddle(view);
  const double reach = -p.z * guard_px;
  return -p.z >= near_mm && std::abs(p.x * view.focal_px - p.z * off.x) <= reach &&
         std::abs(p.y * view.focal_px + p.z * off.y) <= reach;
}

// The part of a triangle (camera frame, looking down -z) in front of the near plane and inside the guard
// band. An edge that two triangles share is cut at the same points in both.
ClippedPolygon clipToGuard(const std::array<glm::dvec3, 3>& triangle, const RasterView& view);

// The nearest distance along the lens axis at which the triangle is inside the picture (a little more
// than the picture), mm; infinity where it never is.
double nearestInPicture(const std::array<glm::dvec3, 3>& triangle, const RasterView& view);

}  // namespace petalproof::visibility
