#pragma once
// Tells whether a pixel belongs to a gap, from the gap's runs. Used to find the middle of gaps.

#include "engine/gaps/gaps.h"

#include <algorithm>
#include <utility>
#include <vector>

namespace petalproof::candidates {

// Refers to the gap, which must outlive it.
class PixelsOfGap {
 public:
  explicit PixelsOfGap(const gaps::Gap& gap) : runs_(gap.runs) {}
  bool has(int x, int y) const {
    auto run = std::upper_bound(runs_.begin(), runs_.end(), std::pair(y, x),
                                [](const std::pair<int, int>& pixel, const gaps::Run& run_of_gap) {
                                  return pixel < std::pair(run_of_gap.row, run_of_gap.begin);
                                });
    if (run == runs_.begin()) return false;
    --run;
    return run->row == y && x < run->end;
  }

 private:
  const std::vector<gaps::Run>& runs_;
};

}  // namespace petalproof::candidates
