#pragma once
// Measures a gap's length: the longest distance between two of its points. findGaps calls it for each gap.

#include "engine/gaps/internal/pixel_region.h"

#include <glm/vec2.hpp>

#include <vector>

namespace petalproof::gaps {

// A pixel by its column and row.
struct PixelAt {
  int x = 0;
  int y = 0;
};

// The pixels (x, y) with x * across + y * down <= most, but for half of the way to the next pixels.
struct HalfPlane {
  double across = 0;
  double down = 0;
  double most = 0;
};

// Memory that is kept from one region to the next.
struct LengthScratch {
  std::vector<PixelAt> outermost;
  std::vector<PixelAt> hull;
  std::vector<HalfPlane> sides;
  std::vector<glm::dvec2> corners_mm;
  std::vector<Footprint> footprints;
};

// The longest distance between two points of the region on the board plane. Pixels tell what is bare at their
// centres; the region's own border is somewhere between their hull and the pixels beyond. It is taken as the
// hull's sides moved out to about the middle between, but never beyond the ellipses around its pixels.
double lengthOf(std::span<const Run> runs, const BoardMapping& mapping, LengthScratch& scratch);

}  // namespace petalproof::gaps
