#pragma once
#include "engine/gaps/internal/pixel_region.h"

#include <vector>

namespace petalproof {

// Memory that is kept from one region to the next.
struct CircleScratch {
  std::vector<int> to_outside;  // rows of a grid, in cells
  std::vector<int> centres;
  std::vector<double> borders;
  std::vector<Footprint> border;
};

// The diameter of the largest circle that fits into the region on the board plane: whose middle is as far as
// possible from the pixels beside the region, each taken as the ellipse in its footprint (with their corners,
// which the border of a region seen in pixels doesn't know, the circle would come out too small). `hull` as
// of hullOf, `area_mm2` as of areaOf.
double widthOf(const PixelRegion& region, const BoardMapping& mapping, std::span<const Footprint> hull,
               double area_mm2, CircleScratch& scratch);

}  // namespace petalproof
