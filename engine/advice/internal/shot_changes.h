#pragma once
// The changes of a shot that a photographer would agree to, with the people framed as before.

#include "engine/advice/advice.h"
#include "engine/camera/camera.h"

#include <vector>

namespace petalproof::advice {

constexpr double largest_size_change = 0.1;  // of the people in the frame, as a share

// What of the surroundings limits a shot.
struct ShotLimits {
  camera::WallFrame wall;
  plan::Room room;
};

// In the order in which they are to be tried; only those that keep the framing. None for a shot whose camera
// can't be.
std::vector<ShotChange> shotChanges(const plan::Shot& shot, const ShotLimits& limits);

// Everybody's head in the same place of the frame to 4 % of its shorter side and as large to 10 %, wholly
// in it who was; sharp who was; no side farther off the wall; the camera in front of the people, between 30
// cm and 2.4 m above the floor or as high as it was, within the room. A zoom is compared at each of its ends.
bool keepsFraming(const plan::Shot& before, const plan::Shot& after, const ShotLimits& limits);

}  // namespace petalproof::advice
