#pragma once
#include "engine/gaps/gaps.h"

#include <algorithm>
#include <utility>
#include <vector>

namespace petalproof::candidates {

// A gap's runs, looked up by pixel. Refers to the gap, which must outlive it.
class PixelsOfGap {
 public:
  explicit PixelsOfGap(const gaps::Gap& gap) : runs_(gap.runs) {}
  bool has(int x, int y) const {
    auto run = std::upper_bound(runs_.begin(), runs_.end(), std::pair(y, x),
                                [](const std::pair<int, int>& pixel, const gaps::Run& one) {
                                  return pixel < std::pair(one.row, one.begin);
                                });
    if (run == runs_.begin()) return false;
    --run;
    return run->row == y && x < run->end;
  }

 private:
  const std::vector<gaps::Run>& runs_;
};

}  // namespace petalproof::candidates
