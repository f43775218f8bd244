#pragma once
// The advice in the JSON of a check.

#include "engine/advice/advice.h"
#include "engine/camera/camera.h"
#include "engine/report/internal/json_text.h"

namespace petalproof::report {

// The value of "advice": lengths in mm in the wall frame, fixed order of keys.
json_text::Json adviceJson(const advice::Advice& advice, const camera::WallFrame& wall);

}  // namespace petalproof::report
