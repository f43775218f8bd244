// Places of builds that no candidate hides, and a closer look around them.

#include "engine/base/hash.h"
#include "engine/base/threads.h"
#include "engine/hands/internal/hands_cover.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <set>
#include <tuple>
#include <utility>

namespace petalproof::hands {
namespace {

constexpr double block_mm = 12;
constexpr int most_looks = 3;  // at a block: other builds show other places of it

// Some of them, from all over.
std::vector<std::uint32_t> spreadOver(const std::vector<std::uint32_t>& all, std::size_t most) {
  std::vector<std::uint32_t> some;
  for (std::size_t k = 0; k < std::min(most, all.size()); ++k)
    some.push_back(all[k * all.size() / std::min(most, all.size())]);
  return some;
}

// Those of the best that break no rule.
std::vector<candidates::Proposal> bestAllowed(const candidates::Sites& sites,
                                              std::vector<HandsCover::Tried> tried) {
  constexpr std::size_t most_found = 4;
  std::stable_sort(tried.begin(), tried.end(), [](const auto& a, const auto& b) {
    return a.hidden != b.hidden ? a.hidden > b.hidden : a.aside_mm < b.aside_mm;
  });
  std::vector<candidates::Proposal> found;
  for (const HandsCover::Tried& one : tried) {
    if (found.size() == most_found) break;
    const candidates::Candidate& filler = one.filler;
    if (sites.bars(filler.kind, filler.site, filler.turn_deg).by == candidates::Bar::none)
      found.push_back(candidates::proposalOf(filler));
  }
  return found;
}

}  // namespace

HandsCover::Numbers HandsCover::hopeless() const {
  std::vector<char> could(demands_.size(), 0);
  for (const auto& covers : covers_)
    for (const std::uint32_t demand : covers) could[demand] = 1;
  Numbers not_yet;
  for (std::uint32_t k = 0; k < demands_.size(); ++k)
    if (could[k] == 0) not_yet.push_back(k);
  return not_yet;
}

int HandsCover::buildsWithHopeless(std::uint32_t from) const {
  std::map<std::tuple<std::uint32_t, double, double>, std::uint64_t> times;
  std::set<std::uint32_t> builds;
  for (const std::uint32_t k : hopeless()) {
    const std::uint32_t build = demands_.buildOf(k);
    const glm::dvec2 at = demands_[k].at_mm;
    if (k >= from && build != 0 && ++times[{build, at.x, at.y}] >= times_hung) builds.insert(build);
  }
  return static_cast<int>(builds.size());
}

HandsCover::Blocks HandsCover::blocksOf(const Numbers& demands) const {
  Blocks blocks;
  for (const std::uint32_t k : demands) {
    const glm::dvec2 block = glm::floor(demands_[k].at_mm / block_mm);
    if (demands_.buildOf(k) != 0) blocks[{static_cast<int>(block.x), static_cast<int>(block.y)}].push_back(k);
  }
  return blocks;
}

void HandsCover::lookCloselyAt(const Numbers& demands) {
  constexpr std::size_t most_blocks = 12;
  const Blocks blocks = blocksOf(demands);
  std::vector<std::pair<std::size_t, Block>> by_size;
  for (const auto& [block, some] : blocks)
    if (looked_closely_[block] < most_looks) by_size.emplace_back(some.size(), block);
  std::sort(by_size.begin(), by_size.end(), [](const auto& a, const auto& b) {
    return a.first != b.first ? a.first > b.first : a.second < b.second;
  });
  by_size.resize(std::min(by_size.size(), most_blocks));
  std::vector<std::vector<candidates::Proposal>> found(by_size.size());
  forEach(by_size.size(), [&](std::size_t n) { found[n] = closeLook(blocks.at(by_size[n].second)); });
  for (std::size_t n = 0; n < by_size.size(); ++n) {
    ++looked_closely_[by_size[n].second];
    pool_.add(found[n]);
  }
  propose({}, Look::wide);
}

// Those that hide most of them, of equals the nearest. Where plates of others leave little room, the steps of
// a first look may pass over it.
std::vector<candidates::Proposal> HandsCover::closeLook(const Numbers& demands) const {
  constexpr std::size_t most_asked = 6;
  constexpr double steps_each_width[] = {12, 60};
  const Numbers asked = spreadOver(demands, most_asked);
  glm::dvec2 middle(0);
  for (const std::uint32_t k : asked) middle += demands_[k].at_mm / static_cast<double>(asked.size());
  std::vector<candidates::Proposal> found;
  for (const double steps : steps_each_width) {
    if (!found.empty()) break;
    std::vector<Tried> tried;
    for (std::size_t kind = 0; kind < task_.maker.kinds().size(); ++kind)
      tryAround(middle, asked, kind, task_.maker.kinds()[kind].width_mm / steps, tried);
    found = bestAllowed(task_.sites, std::move(tried));
  }
  return found;
}

void HandsCover::tryAround(glm::dvec2 middle, const Numbers& asked, std::size_t kind, double pitch_mm,
                           std::vector<Tried>& tried) const {
  const scene::FillerKind& one = task_.maker.kinds()[kind];
  const double reach = 0.5 * one.diameter_mm;
  const double pitch = std::max(task_.sites.tapeStep_mm(), pitch_mm);
  const int turns = one.greenery ? 8 : 1;
  for (double y = -reach; y <= reach; y += pitch)
    for (double x = -reach; x <= reach; x += pitch) {
      const glm::dvec2 aside(x, y);
      const candidates::Site site = task_.sites.nearestSite(middle + aside);
      if (glm::length(aside) > reach || task_.sites.barsPlate(one, site.board_mm).by != candidates::Bar::none)
        continue;
      for (int turn = 0; turn < turns; ++turn) {
        const candidates::Candidate probe{kind, site, 360 * turn / turns, {}};
        const auto hidden = std::count_if(asked.begin(), asked.end(),
                                          [&](std::uint32_t k) { return demands_.isHiddenBy(probe, k); });
        if (hidden == 0) continue;
        tried.push_back({static_cast<int>(hidden), glm::length(aside), probe});
      }
    }
}

std::optional<std::uint32_t> HandsCover::worstHopeless() const {
  const Blocks blocks = blocksOf(hopeless());
  const auto worst = std::max_element(blocks.begin(), blocks.end(), [](const auto& a, const auto& b) {
    return a.second.size() < b.second.size();
  });
  if (worst == blocks.end()) return std::nullopt;
  return worst->second[worst->second.size() / 2];
}

}  // namespace petalproof::hands
