#pragma once
// Warnings about a shot's framing, in words, for the check's report.

#include "engine/camera/camera.h"

#include <string>
#include <vector>

namespace petalproof::camera {

// Warns of a wall wholly out of the picture and of a camera farther out than the room's free floor.
std::vector<std::string> framingWarnings(const Camera& camera, const plan::Shot& shot, const WallFrame& wall,
                                         const plan::Room& room);

}  // namespace petalproof::camera
