#pragma once
// Draws the map of a filled wall; `fill --pictures` and the window call it.

#include "engine/base/image.h"
#include "engine/report/fill_json.h"
#include "engine/report/marked_picture.h"

namespace petalproof::report {

// The filled wall head-on with every filler ringed and numbered as in the list, bare places hatched, the
// panels' names and tape measures from the left and the top edge.
Image fillMap(const FilledWall& wall, int threads = 0, double area_px = picture_area_px);

}  // namespace petalproof::report
