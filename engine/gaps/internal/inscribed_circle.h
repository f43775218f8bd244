#pragma once
// Measures a gap's width: the largest circle inside its pixels on the board plane. findGaps calls it for each
// component.

#include "engine/gaps/internal/pixel_region.h"
#include "engine/gaps/internal/region_border.h"

#include <vector>

namespace petalproof::gaps {

// A pixel, and an upper bound of the radius of a circle about its middle.
struct PixelRoom {
  int x = 0;
  int y = 0;
  double at_most_mm = 0;
  // The most room first, then from the top, then from the left.
  friend bool operator<(const PixelRoom& a, const PixelRoom& b) {
    if (a.at_most_mm != b.at_most_mm) return a.at_most_mm > b.at_most_mm;
    return a.y != b.y ? a.y < b.y : a.x < b.x;
  }
};

// The distances between a pixel and its neighbours on the board, mm.
struct Steps {
  float across, down, falling, rising;
};

// Memory that is kept from one region to the next.
struct CircleScratch {
  std::vector<Steps> steps;      // block by block
  std::vector<float> distances;  // mm
  RegionBorder border;
  std::vector<PixelRoom> promising;
};

// The diameter of the largest circle that fits into the region on the board plane: its middle is as far as
// possible from the pixels beside the region, each taken as the ellipse in its footprint. (With whole
// footprints the circle would come out too small: the true border lies anywhere between pixels.) `sizes`:
// from footprintSizesOf.
double widthOf(const PixelRegion& region, const BoardMapping& mapping, const FootprintSizes& sizes,
               CircleScratch& scratch);

}  // namespace petalproof::gaps
