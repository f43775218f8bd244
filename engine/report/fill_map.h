#pragma once
#include "engine/base/image.h"
#include "engine/base/pool.h"
#include "engine/report/fill_json.h"
#include "engine/report/marked_picture.h"

namespace petalproof::report {

// The filled wall head-on with every filler ringed and numbered as in the list, what stays bare hatched, the
// panels' names and tape measures from the left and the top edge.
Image fillMap(const FilledWall& wall, const Pool& pool, double area_px = picture_area_px);

}  // namespace petalproof::report
