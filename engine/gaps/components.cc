#include "engine/gaps/components.h"

#include "engine/gaps/internal/flat_components.h"

namespace petalproof::gaps {

std::vector<Component> connectedComponents(const std::vector<Run>& runs) {
  const FlatComponents flat = flatComponents(runs);
  std::vector<Component> components(flat.count());
  for (std::size_t k = 0; k < components.size(); ++k) {
    const auto its_runs = flat.runsOf(k);
    components[k] = {its_runs.front().label, pixelsOf(its_runs), {its_runs.begin(), its_runs.end()}};
  }
  return components;
}

}  // namespace petalproof::gaps
