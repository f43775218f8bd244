#pragma once
#include "engine/camera/camera.h"
#include "engine/gaps/gaps.h"

#include <vector>

namespace petalproof::report {

using PixelOutline = std::vector<glm::dvec2>;

// Each hole's outline as the camera sees it; empty for a hole with a corner behind
// the camera.
std::vector<PixelOutline> projectedOutlines(const gaps::GapsOfShot& found, const camera::Camera& camera);

}  // namespace petalproof::report
