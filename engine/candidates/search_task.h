#pragma once
// The input of a search for fillers: the plan with its scene, the fillers that can be made, where they may
// sit, the threads to search on, and how to report progress and be stopped. FillWork makes it; the searches
// and proposals of fill and hands take it.

#include "engine/base/pool.h"
#include "engine/base/stopping.h"
#include "engine/candidates/internal/sites.h"
#include "engine/plan/plan.h"
#include "engine/scene/filler_maker.h"
#include "engine/scene/scene.h"

#include <cstdint>
#include <functional>
#include <vector>

namespace petalproof::candidates {

struct SearchTask {
  const plan::Plan& plan;  // with the fillers that stay
  const scene::Scene& scene;
  const scene::FillerMaker& maker;
  const Sites& sites;
  const Pool& workers;
  std::uint64_t seed = 1;
  std::function<void(double)> progress;  // the share done; may be empty
  std::stop_token stop = {};             // asked within steps, on any thread
};

// For each kind of the maker's the stock, less the fillers that stay; -1: any number.
std::vector<int> stockLeft(const plan::Plan& plan, const scene::FillerMaker& maker);

}  // namespace petalproof::candidates
