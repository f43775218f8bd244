#pragma once
// Turns corners in the camera frame into triangles in the picture, for Bins and the cover kernels. All
// inline: it runs for each of a million triangles.

#include "engine/visibility/internal/screen_triangle.h"

#include <glm/geometric.hpp>
#include <glm/vec3.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>

namespace petalproof::visibility {

// floor(px * 1024 + 0.5), for |px| < 2^20
inline std::int32_t snapped(double px) {
  const double place = px * subpixels + 0.5;
  const auto cut = static_cast<std::int32_t>(place);
  return cut - (place < cut ? 1 : 0);
}

inline bool isFinite(const DepthPlane& plane) {
  // Infinities and NaN survive the multiplication by 0.
  return (plane.at_origin + plane.per_x + plane.per_y) * 0 == 0;
}

// Top to bottom, then left to right: the order in which edges are walked, whatever triangle they bound.
// Without branches: the corners come in any order, so the processor would often mispredict them.
inline void sortDownwards(const std::array<ScreenCorner, 3>& c, ScreenTriangle& t) {
  const std::array<CornerKey, 3> sorted =
      sortedDownwards(cornerKey(c[0].x, c[0].y), cornerKey(c[1].x, c[1].y), cornerKey(c[2].x, c[2].y));
  for (std::size_t k = 0; k < 3; ++k) {
    t.y[k] = yOf(sorted[k]);
    t.x[k] = xOf(sorted[k]);
  }
}

// How far the plane may leave the triangle's own depths: a covered pixel centre lies up to 1/2048 px (across
// and down) outside the true triangle. Twice that, to be safe.
inline double overshootOf(const DepthPlane& plane) {
  return (std::abs(plane.per_x) + std::abs(plane.per_y)) / subpixels;
}

// The corner must be inside the guard band (engine/visibility/internal/clip.h). Half of 1/1024 px is snapped
// up.
inline ScreenCorner projected(const glm::dvec3& p, const RasterView& view) {
  ScreenCorner corner;
  corner.inverse_depth = 1.0 / -p.z;
  corner.u = view.principal_px.x + view.focal_px * p.x * corner.inverse_depth;
  corner.v = view.principal_px.y - view.focal_px * p.y * corner.inverse_depth;
  corner.x = snapped(corner.u);
  corner.y = snapped(corner.v);
  return corner;
}

// The plane through three corners.
inline DepthPlane planeThrough(const std::array<ScreenCorner, 3>& c) {
  const double du1 = c[1].u - c[0].u;
  const double dv1 = c[1].v - c[0].v;
  const double dd1 = c[1].inverse_depth - c[0].inverse_depth;
  const double du2 = c[2].u - c[0].u;
  const double dv2 = c[2].v - c[0].v;
  const double dd2 = c[2].inverse_depth - c[0].inverse_depth;
  const double scale = 1.0 / (du1 * dv2 - du2 * dv1);
  DepthPlane plane;
  plane.per_x = (dd1 * dv2 - dd2 * dv1) * scale;
  plane.per_y = (du1 * dd2 - du2 * dd1) * scale;
  plane.at_origin = c[0].inverse_depth - (plane.per_x * c[0].u + plane.per_y * c[0].v);
  return plane;
}

// The plane through three points of the camera frame, some of which may be behind the camera. Not finite
// where the plane goes through the camera.
inline DepthPlane planeThrough(const std::array<glm::dvec3, 3>& p, const RasterView& view) {
  // n . q = k on the plane; with q = depth * r, r = ((u - cx) / f, (cy - v) / f, -1): 1 / depth = n . r / k.
  const glm::dvec3 n = glm::cross(p[1] - p[0], p[2] - p[0]);
  const double k = glm::dot(n, p[0]);
  DepthPlane plane;
  plane.per_x = n.x / (k * view.focal_px);
  plane.per_y = -n.y / (k * view.focal_px);
  plane.at_origin = -n.z / k - (plane.per_x * view.principal_px.x + plane.per_y * view.principal_px.y);
  return plane;
}

// The pixels whose centres lie in the triangle's bounding box, cut to the picture.
inline PixelBox boxOf(const std::array<ScreenCorner, 3>& c, int width_px, int height_px) {
  const std::int32_t x_min = std::min(std::min(c[0].x, c[1].x), c[2].x);
  const std::int32_t x_max = std::max(std::max(c[0].x, c[1].x), c[2].x);
  const std::int32_t y_min = std::min(std::min(c[0].y, c[1].y), c[2].y);
  const std::int32_t y_max = std::max(std::max(c[0].y, c[1].y), c[2].y);
  return {std::max(firstCentreFrom(x_min), 0), std::max(firstCentreFrom(y_min), 0),
          std::min(firstCentreFrom(x_max), width_px), std::min(firstCentreFrom(y_max), height_px)};
}

// Planes that overshoot the corners' depths by more than these shares are steep: their depths are clamped.
constexpr double most_overshoot_of_range = 0.125;
constexpr double most_overshoot_of_least = 0.5;

// False where the snapped corners lie on one line: the triangle covers nothing.
inline bool setUp(const std::array<ScreenCorner, 3>& c, const DepthPlane& plane, std::uint32_t id,
                  ScreenTriangle& out) {
  sortDownwards(c, out);
  const std::int64_t area = std::int64_t{out.x[1] - out.x[0]} * (out.y[2] - out.y[0]) -
                            std::int64_t{out.x[2] - out.x[0]} * (out.y[1] - out.y[0]);
  if (area == 0) return false;
  const double least = std::min(std::min(c[0].inverse_depth, c[1].inverse_depth), c[2].inverse_depth);
  const double greatest = std::max(std::max(c[0].inverse_depth, c[1].inverse_depth), c[2].inverse_depth);
  out.middle_right = area > 0;
  out.plane = isFinite(plane) ? plane : DepthPlane{0.5 * (least + greatest), 0, 0};
  const double overshoot = overshootOf(out.plane);
  out.clamped =
      overshoot > most_overshoot_of_range * (greatest - least) || overshoot > most_overshoot_of_least * least;
  out.nearest = static_cast<float>(greatest + (out.clamped ? 0 : overshoot)) * (1 + float_margin);
  out.farthest = static_cast<float>(least) * (1 - float_margin);
  out.id = id;
  return true;
}

}  // namespace petalproof::visibility
