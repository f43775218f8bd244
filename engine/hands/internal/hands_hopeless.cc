#include "engine/hands/internal/hands_hopeless.h"

#include "engine/candidates/candidate_pool.h"

#include <glm/common.hpp>
#include <glm/geometric.hpp>

#include <algorithm>
#include <set>
#include <tuple>

namespace petalproof::hands {
namespace {

using Numbers = std::vector<std::uint32_t>;  // of demands
using Block = std::pair<int, int>;           // of the board plane

// A filler that a close look tries: how many of the places it hides, and how far from their middle it is.
struct Tried {
  int hidden = 0;
  double aside_mm = 0;
  candidates::Candidate filler;
};

// At most `most` of the numbers, spread evenly.
Numbers spreadOver(const Numbers& numbers, std::size_t most) {
  Numbers picked;
  const std::size_t count = std::min(most, numbers.size());
  for (std::size_t k = 0; k < count; ++k) picked.push_back(numbers[k * numbers.size() / count]);
  return picked;
}

// The fillers that hide most, of equals the nearest, and that break no rule.
std::vector<candidates::Proposal> bestAllowed(const candidates::Sites& sites, std::vector<Tried> tried) {
  constexpr std::size_t most_found = 4;
  std::stable_sort(tried.begin(), tried.end(), [](const auto& a, const auto& b) {
    return a.hidden != b.hidden ? a.hidden > b.hidden : a.aside_mm < b.aside_mm;
  });
  std::vector<candidates::Proposal> found;
  for (const auto& [hidden, aside_mm, filler] : tried) {
    if (found.size() == most_found) break;
    if (sites.bars(filler.kind, filler.site, filler.turn_deg).by == candidates::Bar::none)
      found.push_back(candidates::proposalOf(filler));
  }
  return found;
}

// The demands of simulated builds, not the plan's own, by block.
std::map<Block, Numbers> blocksOf(const HandDemands& demands, const Numbers& numbers) {
  constexpr double block_mm = 12;
  std::map<Block, Numbers> blocks;
  for (const std::uint32_t k : numbers) {
    const glm::dvec2 block = glm::floor(demands[k].at_mm / block_mm);
    if (demands.buildOf(k) != 0) blocks[{static_cast<int>(block.x), static_cast<int>(block.y)}].push_back(k);
  }
  return blocks;
}

// Tries fillers of a kind all around `middle`, in steps of `pitch_mm` or of a tape's marks.
void tryAround(const candidates::SearchTask& task, const HandDemands& demands, const Numbers& asked,
               glm::dvec2 middle, std::size_t kind, double pitch_mm, std::vector<Tried>& tried) {
  constexpr int turns_of_leaf = 8;
  const scene::FillerKind& filler = task.maker.kinds()[kind];
  const double reach = 0.5 * filler.diameter_mm;
  const double pitch = std::max(task.sites.tapeStep_mm(), pitch_mm);
  const int turns = filler.greenery ? turns_of_leaf : 1;
  for (double y = -reach; y <= reach; y += pitch)
    for (double x = -reach; x <= reach; x += pitch) {
      const glm::dvec2 aside(x, y);
      const candidates::Site site = task.sites.nearestSite(middle + aside);
      if (glm::length(aside) > reach ||
          task.sites.barsPlate(filler, site.board_mm).by != candidates::Bar::none)
        continue;
      for (int turn = 0; turn < turns; ++turn) {
        const candidates::Candidate probe{kind, site, 360 * turn / turns, {}};
        const auto hidden = std::count_if(asked.begin(), asked.end(),
                                          [&](std::uint32_t k) { return demands.isHiddenBy(probe, k); });
        if (hidden == 0) continue;
        tried.push_back({static_cast<int>(hidden), glm::length(aside), probe});
      }
    }
}

// The best fillers for demands of a block. Where other plates leave little room, the steps of a first look
// may pass over it: then a finer look follows.
std::vector<candidates::Proposal> closeLook(const candidates::SearchTask& task, const HandDemands& demands,
                                            const Numbers& of_block) {
  constexpr std::size_t most_asked = 6;
  constexpr double steps_each_width[] = {12, 60};
  const Numbers asked = spreadOver(of_block, most_asked);
  glm::dvec2 middle(0);
  for (const std::uint32_t k : asked) middle += demands[k].at_mm / static_cast<double>(asked.size());
  std::vector<candidates::Proposal> found;
  for (const double steps : steps_each_width) {
    if (!found.empty()) break;
    std::vector<Tried> tried;
    for (std::size_t kind = 0; kind < task.maker.kinds().size(); ++kind)
      tryAround(task, demands, asked, middle, kind, task.maker.kinds()[kind].width_mm / steps, tried);
    found = bestAllowed(task.sites, std::move(tried));
  }
  return found;
}

}  // namespace

int buildsWithHopeless(const HandDemands& demands, const Numbers& hopeless, std::uint32_t from) {
  std::map<std::tuple<std::uint32_t, double, double>, std::uint64_t> times;
  std::set<std::uint32_t> builds;
  for (const std::uint32_t k : hopeless) {
    const std::uint32_t build = demands.buildOf(k);
    const glm::dvec2 at = demands[k].at_mm;
    if (k >= from && build != 0 && ++times[{build, at.x, at.y}] >= times_hung) builds.insert(build);
  }
  return static_cast<int>(builds.size());
}

std::optional<std::uint32_t> worstHopeless(const HandDemands& demands, const Numbers& hopeless) {
  const std::map<Block, Numbers> blocks = blocksOf(demands, hopeless);
  const auto worst = std::max_element(blocks.begin(), blocks.end(), [](const auto& a, const auto& b) {
    return a.second.size() < b.second.size();
  });
  if (worst == blocks.end()) return std::nullopt;
  return worst->second[worst->second.size() / 2];
}

std::vector<candidates::Proposal> CloseLooks::around(const candidates::SearchTask& task,
                                                     const HandDemands& demands, const Numbers& looked_at) {
  constexpr std::size_t most_blocks = 12;
  constexpr int most_looks = 3;  // at a block: other builds show other places of it
  const std::map<Block, Numbers> blocks = blocksOf(demands, looked_at);
  std::vector<std::pair<std::size_t, Block>> by_size;
  for (const auto& [block, numbers] : blocks)
    if (times_[block] < most_looks) by_size.emplace_back(numbers.size(), block);
  std::sort(by_size.begin(), by_size.end(), [](const auto& a, const auto& b) {
    return a.first != b.first ? a.first > b.first : a.second < b.second;
  });
  by_size.resize(std::min(by_size.size(), most_blocks));
  std::vector<std::vector<candidates::Proposal>> found(by_size.size());
  task.workers.forEach(by_size.size(), [&](std::size_t n) {
    throwIfStopAsked(task.stop);
    found[n] = closeLook(task, demands, blocks.at(by_size[n].second));
  });
  std::vector<candidates::Proposal> proposals;
  for (std::size_t n = 0; n < by_size.size(); ++n) {
    ++times_[by_size[n].second];
    proposals.insert(proposals.end(), found[n].begin(), found[n].end());
  }
  return proposals;
}

}  // namespace petalproof::hands
