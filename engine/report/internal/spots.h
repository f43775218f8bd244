#pragma once
// Which holes a maker deals with together.

#include "engine/gaps/gaps.h"
#include "engine/reading/reading.h"

#include <vector>

namespace petalproof::report {

constexpr double spot_reach_mm = 3 * 25.4;
constexpr double sliver_mm = 25.4 / 8;
constexpr double sliver_length_mm = 3 * 25.4;

// One place to see to: its worst hole and every hole that comes nearer than 3 in to the outline of that one
// and that no worse spot has. (Not holes near to holes near to it: on a full wall that would chain half of
// the wall into one spot.)
struct Spot {
  std::vector<int> holes;  // indices into GapsOfShot::holes: the largest of those that read worst, then the
                           // others, worst first
  int number = 0;          // of the first
};

// Worst means what shows before what is faint, then what stands out most times how large it looks (odder
// than, times its area as looked at), then largest on the wall, then the lowest number. Slivers, under 1/8 in
// wide and 3 in long, and other holes that are lost in the picture are only counted.
struct Spots {
  std::vector<Spot> spots;  // worst first
  int slivers = 0;
  int slivers_showing = 0;
  int lost = 0;  // slivers not among them
};
// `readings`: one a hole; none: as if every hole showed equally.
Spots spotsOf(const gaps::GapsOfShot& found, const std::vector<reading::Reading>& readings = {});

// Of a gap or a hole.
inline bool isSliver(const gaps::Gap& gap) {
  return gap.width_mm < sliver_mm && gap.length_mm < sliver_length_mm;
}

}  // namespace petalproof::report
