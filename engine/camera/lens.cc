#include "engine/camera/lens.h"

#include "engine/camera/projection.h"

#include <cmath>

namespace petalproof::camera {
namespace {

// The sensor's diagonal divided by this is the circle of confusion (lens.h says why 1500).
constexpr double circles_in_diagonal = 1500;
// A lens focused this near to the hyperfocal distance, as a share of it, counts as focused there.
constexpr double rounding = 1e-12;

}  // namespace

ThinLens lensOf(const Camera& camera) { return {camera.focal_mm, camera.f_number, camera.focus_mm}; }

double imageDistanceMm(const ThinLens& lens) {
  return lens.focus_mm * lens.focal_mm / (lens.focus_mm - lens.focal_mm);
}

// |D - s| / D, written so that an infinite D has its limit.
double blurDiscMm(const ThinLens& lens, double distance_mm) {
  const double at_infinity =
      lens.focal_mm * lens.focal_mm / (lens.f_number * (lens.focus_mm - lens.focal_mm));
  return at_infinity * std::abs(1 - lens.focus_mm / distance_mm);
}

double blurSpreadMm(const ThinLens& lens, double distance_mm) {
  return lens.focal_mm / lens.f_number * std::abs(distance_mm / lens.focus_mm - 1);
}

double circleOfConfusionMm(const Camera& camera) { return camera.sensor_diagonal_mm / circles_in_diagonal; }

double hyperfocalMm(const ThinLens& lens, double circle_mm) {
  return lens.focal_mm * lens.focal_mm / (lens.f_number * circle_mm) + lens.focal_mm;
}

// With k = (s - f) / (H - f) the limits are s / (1 + k) and s / (1 - k); k has its limits where N or c has.
DepthOfField depthOfField(const ThinLens& lens, double circle_mm) {
  const double k =
      lens.f_number * circle_mm * (lens.focus_mm - lens.focal_mm) / (lens.focal_mm * lens.focal_mm);
  DepthOfField sharp;
  sharp.near_mm = lens.focus_mm / (1 + k);
  if (k < 1 - rounding) sharp.far_mm = lens.focus_mm / (1 - k);
  return sharp;
}

std::optional<double> boardDistanceMm(const Camera& camera) {
  const auto middle = boardPointOf(camera, {{camera.width_px / 2.0, camera.height_px / 2.0}});
  if (!middle) return std::nullopt;
  return axisDistanceMm(camera, onBoardPlane(*middle));
}

std::vector<plan::Shot> zoomEnds(const plan::Shot& shot) {
  if (!shot.lens.to_mm) return {shot};
  plan::Shot short_end = shot;
  short_end.lens.to_mm.reset();
  plan::Shot long_end = short_end;
  long_end.lens.mm = *shot.lens.to_mm;
  return {short_end, long_end};
}

}  // namespace petalproof::camera
