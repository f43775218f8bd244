#pragma once
// Connected components stored as a single list of runs, without an allocation for each component, so that a
// picture full of specks stays cheap. findGaps measures them.

#include "engine/gaps/components.h"

#include <cstddef>
#include <span>
#include <vector>

namespace petalproof::gaps {

struct FlatComponents {
  std::vector<Run> runs;            // component by component, each from the top, then from the left
  std::vector<std::size_t> starts;  // of each component in `runs`, and the end of the last one

  std::size_t count() const { return starts.size() - 1; }
  std::span<const Run> runsOf(std::size_t k) const {
    return std::span<const Run>(runs).subspan(starts[k], starts[k + 1] - starts[k]);
  }
};

// `runs` and order as with connectedComponents.
FlatComponents flatComponents(std::span<const Run> runs);

std::int64_t pixelsOf(std::span<const Run> runs);

}  // namespace petalproof::gaps
