#include "engine/candidates/search_task.h"

#include <algorithm>
#include <cstddef>

namespace petalproof::candidates {

std::vector<int> stockLeft(const plan::Plan& plan, const scene::FillerMaker& maker) {
  std::vector<int> left;
  for (const scene::FillerKind& kind : maker.kinds()) {
    const plan::Bloom& bloom = plan.blooms[static_cast<std::size_t>(kind.kind)];
    const auto hung =
        std::count_if(plan.fillers.begin(), plan.fillers.end(),
                      [&](const plan::Filler& filler) { return filler.placement.bloom == bloom.name; });
    left.push_back(bloom.stock ? std::max(0, *bloom.stock - static_cast<int>(hung)) : -1);
  }
  return left;
}

}  // namespace petalproof::candidates
