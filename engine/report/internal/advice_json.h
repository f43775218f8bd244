#pragma once
#include "engine/advice/advice.h"
#include "engine/camera/camera.h"

#include <string>

namespace petalproof::report {

// The value of "advice": lengths in mm in the wall frame, fixed order of keys.
std::string adviceJson(const advice::Advice& advice, const camera::WallFrame& wall);

}  // namespace petalproof::report
