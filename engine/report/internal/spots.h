#pragma once
// Groups gaps into spots that a maker deals with together; tables, labels and lists count spots.

#include "engine/gaps/gaps.h"
#include "engine/reading/reading.h"

#include <vector>

namespace petalproof::report {

constexpr double spot_reach_mm = 3 * 25.4;  // about the reach of a small bloom; by judgement
constexpr double sliver_mm = 25.4 / 8;      // narrower gaps are nudged shut rather than filled; by judgement

// The worst gap of a place and every gap whose outline comes nearer than 3 in to that gap's outline and that
// no worse spot has. (Gaps that are near only to the others don't belong to it: on a full wall they would
// chain half of the wall into a single spot.)
struct Spot {
  std::vector<int> gaps;  // indices into GapsOfShot::gaps, worst first
  int number = 0;         // of its worst gap
};

// Gaps that show are worse than faint ones; then the greatest difference counts, then width, area and the
// lowest number. Slivers, under 1/8 in wide, and other gaps that are lost in the picture are only counted.
struct Spots {
  std::vector<Spot> spots;  // worst first
  int slivers = 0;
  int slivers_showing = 0;
  int lost = 0;  // without slivers
};
// `readings`: of each gap in order; if empty, every gap counts as showing equally.
Spots spotsOf(const gaps::GapsOfShot& found, const std::vector<reading::Reading>& readings = {});

inline bool isSliver(const gaps::Gap& gap) { return gap.width_mm < sliver_mm; }

}  // namespace petalproof::report
