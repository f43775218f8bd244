#pragma once
#include "engine/camera/camera.h"
#include "engine/check/advice.h"

#include <string>

namespace petalproof {

// The value of "advice": lengths in mm in the wall frame, fixed order of keys.
std::string adviceJson(const Advice& advice, const WallFrame& wall);

}  // namespace petalproof
