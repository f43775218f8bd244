#pragma once
#include "engine/gaps/internal/pixel_region.h"

#include <vector>

namespace petalproof::gaps {

// A pixel and how large a circle about its middle may be.
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

// How long the steps to a pixel's neighbours are on the board.
struct Steps {
  float across, down, falling, rising;
};

// Memory that is kept from one region to the next.
struct CircleScratch {
  std::vector<Steps> steps;      // block by block
  std::vector<float> distances;  // mm
  std::vector<Footprint> border;
  std::vector<Footprint> near;
  std::vector<PixelRoom> promising;
};

// The diameter of the largest circle that fits into the region on the board plane: whose middle is as far as
// possible from the pixels beside the region, each taken as the ellipse in its footprint (with their corners,
// which the border of a region seen in pixels doesn't know, the circle would come out too small). `sizes` as
// of footprintSizesOf.
double widthOf(const PixelRegion& region, const BoardMapping& mapping, const FootprintSizes& sizes,
               CircleScratch& scratch);

}  // namespace petalproof::gaps
