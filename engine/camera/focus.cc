#include "engine/camera/focus.h"

#include "engine/camera/projection.h"

namespace petalproof::camera {
namespace {

bool isInPicture(const Camera& camera, WallPoint point) {
  const auto pixel = project(camera, point);
  return pixel && pixel->px.x >= 0 && pixel->px.x <= camera.width_px && pixel->px.y >= 0 &&
         pixel->px.y <= camera.height_px;
}

}  // namespace

FocusOfShot focusOf(const Camera& camera, const plan::Shot& shot, const WallFrame& wall) {
  const ThinLens lens = lensOf(camera);
  FocusOfShot focus;
  focus.sharp = depthOfField(lens, circleOfConfusionMm(camera));
  if (const auto board_mm = boardDistanceMm(camera)) {
    focus.wall_is_seen = true;
    focus.wall_blur_mm = blurDiscMm(lens, *board_mm);
    focus.wall_spread_mm = blurSpreadMm(lens, *board_mm);
  }
  const std::vector<WallPoint> eyes = eyesOf(shot, wall);
  for (std::size_t k = 0; k < eyes.size(); ++k) {
    const double distance_mm = axisDistanceMm(camera, eyes[k]);
    if (isInPicture(camera, eyes[k]) && !focus.sharp.holds(distance_mm))
      focus.unsharp.push_back({static_cast<int>(k), distance_mm});
  }
  return focus;
}

}  // namespace petalproof::camera
