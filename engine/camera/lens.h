#pragma once
// Blur and depth of field of an ideal thin lens at its f-number. The focus report, the picture's lens blur
// and the check of zooms call these functions.
//
// Distances run along the lens axis, from the lens to the object; blur is measured on the sensor. Where a
// lens of focal length f at f-number N is focused at s, its sensor stands s f / (s - f) behind it and a point
// at the distance D becomes a disc of the diameter
//   b = f^2 |D - s| / (N D (s - f))
// (E. Hecht, "Optics", chapter on geometrical optics: similar triangles through the aperture f / N).
// Precondition of all below: focal_mm, f_number > 0, focus_mm > focal_mm; makeCamera gives no other lens.

#include "engine/camera/camera.h"

#include <optional>
#include <vector>

namespace petalproof::camera {

struct ThinLens {
  double focal_mm = 50;
  double f_number = 5.6;
  double focus_mm = 3000;
};

// The camera's real lens, also where the plan gives a full-frame equivalent.
ThinLens lensOf(const Camera& camera);

// The distance from the lens to the sensor.
double imageDistanceMm(const ThinLens& lens);

// Diameter of the disc on the sensor that a point at `distance_mm` > 0 (infinity too) becomes; 0 in focus.
double blurDiscMm(const ThinLens& lens, double distance_mm);

// The same disc measured in the plane at `distance_mm` (finite): the blur divided by the magnification there,
// b D / (s f / (s - f)) = (f / N) |D - s| / s. Every point of that plane spreads over its neighbours so far.
double blurSpreadMm(const ThinLens& lens, double distance_mm);

// The largest disc that still passes for a point: the whole sensor's diagonal / 1500, the modern convention
// (the traditional convention is d / 1000).
double circleOfConfusionMm(const Camera& camera);

// f^2 / (N c) + f: a lens focused at this distance shows everything beyond half of it sharp.
double hyperfocalMm(const ThinLens& lens, double circle_mm);

// Between these distances the blur is at most `circle_mm`: s (H - f) / (H + s - 2 f) and s (H - f) / (H - s).
struct DepthOfField {
  double near_mm = 0;
  std::optional<double> far_mm;  // nothing: to infinity

  bool holds(double distance_mm) const {
    return distance_mm >= near_mm && !(far_mm && distance_mm > *far_mm);
  }
};
DepthOfField depthOfField(const ThinLens& lens, double circle_mm);

// The distance along the lens axis to the board at the picture's centre; nothing if the axis never meets it.
std::optional<double> boardDistanceMm(const Camera& camera);

// The shot with either end of its zoom as its only lens, the shorter first; the shot itself where its lens
// is no zoom.
std::vector<plan::Shot> zoomEnds(const plan::Shot& shot);

}  // namespace petalproof::camera
