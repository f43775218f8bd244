#pragma once
// Finds the seams, panels and crossings that come up most often over all shots; table and map name the first.

#include "engine/check/check.h"

#include <vector>

namespace petalproof::report {

// A seam, panel or crossing that shows over all shots.
struct WorstPlace {
  gaps::Owner owner;
  int shots = 0;         // in which a gap of it shows or is faint (slivers left out)
  double widest_mm = 0;  // of its gaps
  double area_mm2 = 0;   // of all its gaps, summed over shots
};

// In most shots first, then the widest, then the largest, then by row and column.
std::vector<WorstPlace> worstPlaces(const check::Check& check);

}  // namespace petalproof::report
