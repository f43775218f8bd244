#pragma once
// Finds connected components of a labelled picture, given as runs of pixels. Knows only grids: gaps and
// readings call it.

#include <cstddef>
#include <cstdint>
#include <vector>

namespace petalproof::gaps {

// Pixels [begin, end) of a row.
struct Run {
  int row = 0;
  int begin = 0;
  int end = 0;
  std::uint32_t label = 0;  // never 0
  friend bool operator==(const Run&, const Run&) = default;
};

// An 8-connected set of pixels of one label; its runs from the top, then from the left.
struct Component {
  std::uint32_t label = 0;
  std::int64_t pixels = 0;
  std::vector<Run> runs;
};

// The components in the order of their first pixels from the top, then from the left. `runs`: in the same
// order, no two of a row overlapping, neighbours of equal label in a row merged.
std::vector<Component> connectedComponents(const std::vector<Run>& runs);

}  // namespace petalproof::gaps
