#pragma once
// Tells whether a changed shot frames its people as before. The search for changes drops those that don't.

#include "engine/camera/camera.h"
#include "engine/plan/plan.h"

namespace petalproof::advice {

constexpr double largest_size_change = 0.1;  // of the people in the frame, as a share

// The surroundings that limit a shot.
struct ShotLimits {
  camera::WallFrame wall;
  plan::Room room;
};

// Everybody's head stays in the same place of the frame, to 4 % of its shorter side, and as large, to 10 %;
// who was wholly in the frame or sharp still is; no side of the frame runs farther off the wall; the camera
// stands in the room, in front of the people, and between 30 cm and 2.4 m above the floor or as high as
// before. A zoom is compared at each of its ends.
bool keepsFraming(const plan::Shot& before, const plan::Shot& after, const ShotLimits& limits);

}  // namespace petalproof::advice
