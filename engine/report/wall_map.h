#pragma once
// Draws the map of the whole wall with the places that shots see bare; `check --pictures` and the window call
// it.

#include "engine/report/marked_picture.h"

namespace petalproof::report {

// The wall head-on with all places that any shot sees bare, the panels' names and tape measures from the
// left and the top edge.
Image wallMap(const check::Check& check, const plan::LoadedPlan& loaded, const scene::Scene& scene,
              int threads = 0, double area_px = picture_area_px);

}  // namespace petalproof::report
