#pragma once
// Connected components of a labelled picture; knows only grids.

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

// `runs` from the top, then from the left, no two of one row overlapping, neighbours of equal label in a
// row merged. In the order of each component's first pixel from the top, then from the left.
std::vector<Component> connectedComponents(const std::vector<Run>& runs);

}  // namespace petalproof::gaps
