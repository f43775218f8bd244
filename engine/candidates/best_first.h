#pragma once
// Chooses candidates greedily: the search and the hands' search call it to add fillers to a choice.

#include "engine/base/pool.h"
#include "engine/candidates/leeway.h"

#include <cstdint>
#include <queue>
#include <utility>
#include <vector>

namespace petalproof::candidates {

// The numbers of the elements that each candidate covers.
using Covers = std::vector<std::vector<std::uint32_t>>;

// For each element 1 if one of the candidates covers it, else 0.
inline std::vector<char> coveredBy(const std::vector<std::uint32_t>& candidates, const Covers& covers,
                                   std::size_t elements) {
  std::vector<char> covered(elements, 0);
  for (const std::uint32_t k : candidates)
    for (const std::uint32_t element : covers[k]) covered[element] = 1;
  return covered;
}

// Adds the candidate with the greatest gain (of equals the first), again and again, as long as its gain is
// above 0 and at least `least` and `leeway` has room for it. `hidden`: 1 for each element that is hidden to
// begin with. gain(k, hidden) must not rise as elements are hidden: an old gain is taken as an upper bound.
template <class Gain>
std::vector<std::uint32_t> bestFirst(const Pool& workers, Leeway leeway, const Covers& covers,
                                     std::vector<char> hidden, double least, const Gain& gain) {
  std::vector<double> gains(covers.size());
  workers.forEach(covers.size(),
                  [&](std::size_t k) { gains[k] = gain(static_cast<std::uint32_t>(k), hidden); });
  std::priority_queue<std::pair<double, std::int64_t>> queue;  // gain, - number
  for (std::size_t k = 0; k < gains.size(); ++k)
    if (gains[k] > 0) queue.emplace(gains[k], -static_cast<std::int64_t>(k));
  std::vector<std::uint32_t> found;
  while (!queue.empty() && queue.top().first >= least) {
    const auto [most, number] = queue.top();
    queue.pop();
    const auto k = static_cast<std::uint32_t>(-number);
    const double now = leeway.has(k) ? gain(k, hidden) : 0;
    if (now < most) {
      if (now > 0) queue.emplace(now, number);
      continue;
    }
    leeway.take(k);
    found.push_back(k);
    for (const std::uint32_t element : covers[k]) hidden[element] = 1;
  }
  return found;
}

}  // namespace petalproof::candidates
