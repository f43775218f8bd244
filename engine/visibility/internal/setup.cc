#include "engine/visibility/internal/setup.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace petalproof::visibility {
namespace {

std::int32_t snapped(double px) { return static_cast<std::int32_t>(std::floor(px * subpixels + 0.5)); }

// The first pixel whose centre is at or after a place in 1/256 px.
int firstCentreFrom(std::int32_t place) { return (place + subpixels / 2 - 1) >> 8; }

DepthPlane planeThrough(const std::array<ScreenCorner, 3>& c) {
  const double du1 = c[1].u - c[0].u;
  const double dv1 = c[1].v - c[0].v;
  const double dd1 = c[1].inverse_depth - c[0].inverse_depth;
  const double du2 = c[2].u - c[0].u;
  const double dv2 = c[2].v - c[0].v;
  const double dd2 = c[2].inverse_depth - c[0].inverse_depth;
  const double determinant = du1 * dv2 - du2 * dv1;
  DepthPlane plane;
  plane.per_x = (dd1 * dv2 - dd2 * dv1) / determinant;
  plane.per_y = (du1 * dd2 - du2 * dd1) / determinant;
  plane.at_origin = c[0].inverse_depth - (plane.per_x * c[0].u + plane.per_y * c[0].v);
  return plane;
}

bool isFinite(const DepthPlane& plane) {
  return std::isfinite(plane.at_origin) && std::isfinite(plane.per_x) && std::isfinite(plane.per_y);
}

float roundedUp(double value) {
  return std::nextafter(static_cast<float>(value), std::numeric_limits<float>::infinity());
}
float roundedDown(double value) { return std::nextafter(static_cast<float>(value), 0.0F); }

}  // namespace

ScreenCorner projected(const glm::dvec3& p, const RasterView& view) {
  ScreenCorner corner;
  corner.inverse_depth = 1.0 / -p.z;
  corner.u = view.principal_px.x + view.focal_px * p.x * corner.inverse_depth;
  corner.v = view.principal_px.y - view.focal_px * p.y * corner.inverse_depth;
  corner.x = snapped(corner.u);
  corner.y = snapped(corner.v);
  return corner;
}

DepthPlane planeThrough(const std::array<glm::dvec3, 3>& p, const RasterView& view) {
  // n . q = k on the plane; with q = depth * r, r = ((u - cx) / f, (cy - v) / f, -1): 1 / depth = n . r / k.
  const glm::dvec3 n = glm::cross(p[1] - p[0], p[2] - p[0]);
  const double k = glm::dot(n, p[0]);
  DepthPlane plane;
  plane.per_x = n.x / (k * view.focal_px);
  plane.per_y = -n.y / (k * view.focal_px);
  plane.at_origin = -n.z / k - (plane.per_x * view.principal_px.x + plane.per_y * view.principal_px.y);
  return plane;
}

PixelBox boxOf(const ScreenTriangle& t, int width_px, int height_px) {
  const auto [x_min, x_max] = std::minmax({t.x[0], t.x[1], t.x[2]});
  const auto [y_min, y_max] = std::minmax({t.y[0], t.y[1], t.y[2]});
  return {std::max(firstCentreFrom(x_min), 0), std::max(firstCentreFrom(y_min), 0),
          std::min(firstCentreFrom(x_max), width_px), std::min(firstCentreFrom(y_max), height_px)};
}

bool setUp(const std::array<ScreenCorner, 3>& c, const DepthPlane& plane, const RasterView& view,
           std::uint32_t id, ScreenTriangle& out) {
  out.x = {c[0].x, c[1].x, c[2].x};
  out.y = {c[0].y, c[1].y, c[2].y};
  if (boxOf(out, view.width_px, view.height_px).empty()) return false;
  const std::int64_t area = std::int64_t{out.x[1] - out.x[0]} * (out.y[2] - out.y[0]) -
                            std::int64_t{out.x[2] - out.x[0]} * (out.y[1] - out.y[0]);
  if (area == 0) return false;
  const auto [least, greatest] = std::minmax({c[0].inverse_depth, c[1].inverse_depth, c[2].inverse_depth});
  out.nearest = roundedUp(greatest);
  out.farthest = roundedDown(least);
  out.id = id;
  out.plane = plane;
  if (!isFinite(plane)) out.plane = {0.5 * (least + greatest), 0, 0};
  // A covered centre lies up to 1/256 px outside the true triangle.
  const double overshoot = (std::abs(out.plane.per_x) + std::abs(out.plane.per_y)) / subpixels;
  out.clamped = overshoot > 0.125 * (greatest - least);
  return true;
}

bool setUp(const std::array<ScreenCorner, 3>& corners, const RasterView& view, std::uint32_t id,
           ScreenTriangle& out) {
  return setUp(corners, planeThrough(corners), view, id, out);
}

}  // namespace petalproof::visibility
