#pragma once

#include "engine/visibility/rasteriser.h"

namespace petalproof::testing {

// From the origin along -z, its axis through the middle of the picture.
inline visibility::RasterView viewOf(int width, int height, double focal_px) {
  visibility::RasterView view;
  view.focal_px = focal_px;
  view.principal_px = {width / 2.0, height / 2.0};
  view.width_px = width;
  view.height_px = height;
  return view;
}

}  // namespace petalproof::testing
