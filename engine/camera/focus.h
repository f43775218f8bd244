#pragma once
// A shot's focus in numbers, for the report: the zone that is sharp, the blur of the wall, and the people
// whose eyes are out of focus.

#include "engine/camera/lens.h"

#include <vector>

namespace petalproof::camera {

struct UnsharpEyes {
  int person = 0;          // in the shot's order, from 0
  double distance_mm = 0;  // from the camera, along the lens axis
};

struct FocusOfShot {
  DepthOfField sharp;         // zone blurred by no more than the sensor's circle of confusion
  bool wall_is_seen = false;  // at the picture's centre; if not, the next two are 0
  double wall_blur_mm = 0;    // blur disc, on the sensor, of a point of the board at the picture's centre
  double wall_spread_mm = 0;  // the same disc measured on the wall, across the lens axis
  std::vector<UnsharpEyes> unsharp;  // of the people whose eyes are in the picture
};
FocusOfShot focusOf(const Camera& camera, const plan::Shot& shot, const WallFrame& wall);

}  // namespace petalproof::camera
