#pragma once
// Candidates that add most to what is hidden already, while there is leeway.

#include "engine/base/threads.h"
#include "engine/candidates/leeway.h"

#include <cstdint>
#include <queue>
#include <utility>
#include <vector>

namespace petalproof::candidates {

// What each candidate covers, by number.
using Covers = std::vector<std::vector<std::uint32_t>>;

// By number, of so many: 1 where one of `some` covers it.
inline std::vector<char> coveredBy(const std::vector<std::uint32_t>& some, const Covers& covers,
                                   std::size_t elements) {
  std::vector<char> covered(elements, 0);
  for (const std::uint32_t k : some)
    for (const std::uint32_t element : covers[k]) covered[element] = 1;
  return covered;
}

// The one of most gain, again and again, as long as that is above 0 and at least `least`; of equals the
// first. `hidden`: what is to begin with. gain(k, hidden) falls as more is hidden, so an old one is an upper
// bound. Call within Workers::run.
template <class Gain>
std::vector<std::uint32_t> bestFirst(Leeway leeway, const Covers& covers, std::vector<char> hidden,
                                     double least, const Gain& gain) {
  std::vector<double> gains(covers.size());
  forEach(covers.size(), [&](std::size_t k) { gains[k] = gain(static_cast<std::uint32_t>(k), hidden); });
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
