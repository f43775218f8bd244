#pragma once
#include "engine/gaps/internal/pixel_region.h"

#include <vector>

namespace petalproof {

// Memory that is kept from one region to the next.
struct CircleScratch {
  std::vector<int> to_outside;  // rows of a grid, in cells
  std::vector<int> centres;
  std::vector<double> borders;
};

// The diameter of the largest circle that fits into the region on the board plane, to half of the region's
// smallest footprint. `hull` as of hullOf, `area_mm2` as of areaOf.
double widthOf(const PixelRegion& region, const BoardMapping& mapping, std::span<const glm::dvec2> hull,
               double area_mm2, CircleScratch& scratch);

}  // namespace petalproof
