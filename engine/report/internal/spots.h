#pragma once
// Which gaps a maker deals with together.

#include "engine/gaps/gaps.h"
#include "engine/reading/reading.h"

#include <vector>

namespace petalproof::report {

constexpr double spot_reach_mm = 3 * 25.4;
constexpr double sliver_mm = 25.4 / 8;

// One place to see to: its worst gap and every gap whose outline comes nearer than 3 in to the outline of
// that one and that no worse spot has. (Not gaps near to gaps near to it: on a full wall that would
// chain half of the wall into one spot.)
struct Spot {
  std::vector<int> gaps;  // indices into GapsOfShot::gaps, worst first
  int number = 0;         // of its worst gap
};

// Worst means what shows before what is faint, then the greatest difference, then widest, then largest, then
// the lowest number. Slivers, under 1/8 in wide, and other gaps that are lost in the picture are only
// counted.
struct Spots {
  std::vector<Spot> spots;  // worst first
  int slivers = 0;
  int slivers_showing = 0;
  int lost = 0;  // slivers not among them
};
// `readings`: one a gap; none: as if every gap showed equally.
Spots spotsOf(const gaps::GapsOfShot& found, const std::vector<reading::Reading>& readings = {});

inline bool isSliver(const gaps::Gap& gap) { return gap.width_mm < sliver_mm; }

}  // namespace petalproof::report
