#include "engine/candidates/fewer.h"

#include "engine/base/hash.h"
#include "engine/candidates/fitting.h"
#include "engine/candidates/internal/shifting.h"
#include "engine/cover/random_steps.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <numeric>
#include <optional>
#include <set>
#include <span>
#include <utility>

namespace petalproof::candidates {
namespace {

constexpr std::size_t neighbours_each = 4;       // grouped with a filler, nearest first
constexpr std::size_t together_with[] = {3, 6};  // neighbours that are shifted with a filler
constexpr std::size_t all_together = 14;         // up to so many fillers are also shifted all at once
constexpr std::uint64_t starts_by_chance = 40;   // of shifting few fillers
constexpr double neighbour_share = 1.1;          // fillers so close, by their radii, are neighbours
// The height of the outline that hides, as a share of a filler's depth.
constexpr double outline_height = 0.4;

using Group = std::vector<std::uint32_t>;  // of chosen fillers, by index into `chosen`

// Groups of neighbouring chosen fillers, and what could take their place.
class Several {
 public:
  Several(const SearchTask& task, const CandidatePool& pool, const PairList& pairs,
          const std::vector<Eye>& eyes, const std::vector<std::uint32_t>& chosen)
      : task_(task), pool_(pool), pairs_(pairs), eyes_(eyes), chosen_(chosen) {
    for (const scene::FillerKind& kind : task.maker.kinds())
      height_ = std::max(height_, outline_height * kind.depth_mm);
  }

  // Each filler alone, with each of its neighbours, and with each two of them.
  std::vector<Group> groups() const {
    std::vector<Group> groups;
    for (std::uint32_t n = 0; n < chosen_.size(); ++n) {
      groups.push_back({n});
      const std::vector<std::uint32_t> near = beside(n, neighbours_each);
      for (std::size_t i = 0; i < near.size(); ++i) {
        if (near[i] > n) groups.push_back({n, near[i]});
        for (std::size_t j = i + 1; j < near.size(); ++j) groups.push_back({n, near[i], near[j]});
      }
    }
    return groups;
  }

  std::vector<Proposal> proposalsFor(const Group& group) const {
    const std::vector<glm::dvec2> places = onlyHiddenBy(group);
    std::vector<Proposal> found =
        group.size() < 3 ? fittings(task_.maker, places) : fittingPairs(task_.maker, places);
    for (Proposal& proposal : found)
      if (!task_.maker.kinds()[proposal.kind].greenery)
        proposal.turn_deg = static_cast<int>(hashOf({task_.seed, group.front(), group.back()}) % 360);
    return found;
  }

  // Each filler with its nearest neighbours, in two sizes of group; if there are few fillers, also all of
  // them.
  std::vector<Group> groupsToShift() const {
    std::set<Group> groups;
    for (std::uint32_t n = 0; n < chosen_.size(); ++n)
      for (const std::size_t most : together_with) {
        Group group = beside(n, most);
        group.push_back(n);
        std::sort(group.begin(), group.end());
        if (group.size() > 1) groups.insert(std::move(group));
      }
    if (chosen_.size() > 1 && chosen_.size() <= all_together) {
      Group all(chosen_.size());
      std::iota(all.begin(), all.end(), 0U);
      groups.insert(std::move(all));
    }
    return {groups.begin(), groups.end()};
  }

  // The group without one of its fillers, shifted to hide the places of all; empty where no filler can be
  // left out. If the group holds all fillers, it is also tried from random starts.
  std::vector<Proposal> withOneFewer(const Group& group) const {
    const std::vector<glm::dvec2> places = onlyHiddenBy(group);
    for (std::size_t out = 0; out < group.size(); ++out) {
      std::vector<Proposal> others;
      for (std::size_t k = 0; k < group.size(); ++k)
        if (k != out) others.push_back(proposalOf(pool_[chosen_[group[k]]]));
      if (auto shifted = shiftedTogether(task_.maker, std::move(others), places, room())) return *shifted;
    }
    if (group.size() < chosen_.size() || places.empty()) return {};
    for (std::uint64_t start = 0; start < starts_by_chance; ++start)
      if (auto shifted = shiftedTogether(task_.maker, spread(group, places, start), places, room()))
        return *shifted;
    return {};
  }

  std::optional<std::vector<Proposal>> shiftedFor(const Group& fillers,
                                                  const std::vector<std::uint32_t>& wanted) const {
    std::vector<glm::dvec2> places = onlyHiddenBy(fillers);
    for (const std::uint32_t pair : wanted) places.push_back(atHeight(pair));
    std::vector<Proposal> from;
    for (const std::uint32_t n : fillers) from.push_back(proposalOf(pool_[chosen_[n]]));
    return shiftedTogether(task_.maker, std::move(from), places, room());
  }

 private:
  // The group without one filler: the first at a random place, each other at the place farthest from those
  // before.
  std::vector<Proposal> spread(const Group& group, std::span<const glm::dvec2> places,
                               std::uint64_t start) const {
    cover::RandomSteps random(hashOf({task_.seed, group.size(), start}));
    std::vector<double> far(places.size(), 1e300);
    glm::dvec2 next = places[random.below(places.size())];
    std::vector<Proposal> fillers;
    for (std::size_t k = 0; k + 1 < group.size(); ++k) {
      fillers.push_back(proposalOf(pool_[chosen_[group[(k + start) % group.size()]]]));
      fillers.back().board_mm = next;
      for (std::size_t n = 0; n < places.size(); ++n)
        far[n] = std::min(far[n], glm::distance(places[n], next));
      next = places[static_cast<std::size_t>(std::max_element(far.begin(), far.end()) - far.begin())];
    }
    return fillers;
  }
  // Rounding to a tape's marks may move a filler by this.
  double room() const { return 0.5 * task_.sites.tapeStep_mm(); }
  glm::dvec2 at(std::uint32_t n) const { return pool_[chosen_[n]].site.board_mm; }

  std::vector<std::uint32_t> beside(std::uint32_t n, std::size_t most) const {
    std::vector<std::pair<double, std::uint32_t>> near;
    for (std::uint32_t other = 0; other < chosen_.size(); ++other) {
      const double reach =
          (pool_.kindOf(chosen_[n]).diameter_mm + pool_.kindOf(chosen_[other]).diameter_mm) / 2;
      const double apart = glm::distance(at(n), at(other));
      if (other != n && apart < neighbour_share * reach) near.emplace_back(apart, other);
    }
    std::sort(near.begin(), near.end());
    near.resize(std::min(near.size(), most));
    std::vector<std::uint32_t> numbers;
    for (const auto& [apart, other] : near) numbers.push_back(other);
    return numbers;
  }

  // A pair's place, moved towards its eye to the height of a filler's outline: there places of several eyes
  // lie as the filler meets them.
  glm::dvec2 atHeight(std::uint32_t pair) const {
    constexpr double most = 0.5;  // of the way to a very near eye
    const glm::dvec3 eye = eyes_[pairs_[pair].eye].at;
    const glm::dvec2 place = pairs_.at(pair);
    return place + (glm::dvec2(eye) - place) * std::min(most, height_ / eye.z);
  }

  std::vector<glm::dvec2> onlyHiddenBy(const Group& group) const {
    std::vector<std::uint32_t> covered;
    for (const std::uint32_t n : group) {
      const std::vector<std::uint32_t>& covers = pool_.covers(chosen_[n]);
      covered.insert(covered.end(), covers.begin(), covers.end());
    }
    std::sort(covered.begin(), covered.end());
    covered.erase(std::unique(covered.begin(), covered.end()), covered.end());
    std::vector<char> hidden(covered.size(), 0);
    for (const std::uint32_t other : mayShareWith(group))
      for (const std::uint32_t pair : pool_.covers(chosen_[other])) {
        const auto at = std::lower_bound(covered.begin(), covered.end(), pair);
        if (at != covered.end() && *at == pair) hidden[static_cast<std::size_t>(at - covered.begin())] = 1;
      }
    std::vector<glm::dvec2> places;
    for (std::size_t k = 0; k < covered.size(); ++k)
      if (hidden[k] == 0) places.push_back(atHeight(covered[k]));
    return places;
  }

  // Chosen fillers outside the group that may hide a pair that the group hides.
  Group mayShareWith(const Group& group) const {
    Group others;
    for (std::uint32_t other = 0; other < chosen_.size(); ++other) {
      if (std::find(group.begin(), group.end(), other) != group.end()) continue;
      const double reach = pool_.reach_mm(chosen_[other]);
      if (std::any_of(group.begin(), group.end(), [&](std::uint32_t n) {
            return glm::distance(at(n), at(other)) <= reach + pool_.reach_mm(chosen_[n]);
          }))
        others.push_back(other);
    }
    return others;
  }

  const SearchTask& task_;
  const CandidatePool& pool_;
  const PairList& pairs_;
  const std::vector<Eye>& eyes_;
  const std::vector<std::uint32_t>& chosen_;
  double height_ = 0;
};

}  // namespace

std::vector<Proposal> proposeForSeveral(const SearchTask& task, const CandidatePool& pool,
                                        const PairList& pairs, const std::vector<Eye>& eyes,
                                        const std::vector<std::uint32_t>& chosen) {
  const Several several(task, pool, pairs, eyes, chosen);
  const std::vector<Group> groups = several.groups();
  std::vector<std::vector<Proposal>> found(groups.size());
  task.workers.forEach(groups.size(), [&](std::size_t k) {
    throwIfStopAsked(task.stop);
    found[k] = several.proposalsFor(groups[k]);
  });
  std::vector<Proposal> proposals;
  for (const auto& of_group : found) proposals.insert(proposals.end(), of_group.begin(), of_group.end());
  return proposals;
}

std::vector<Exchange> exchangesForFewer(const SearchTask& task, const CandidatePool& pool,
                                        const PairList& pairs, const std::vector<Eye>& eyes,
                                        const std::vector<std::uint32_t>& chosen) {
  const Several several(task, pool, pairs, eyes, chosen);
  const std::vector<Group> groups = several.groupsToShift();
  std::vector<Exchange> found(groups.size());
  task.workers.forEach(groups.size(), [&](std::size_t k) {
    throwIfStopAsked(task.stop);
    found[k].in = several.withOneFewer(groups[k]);
  });
  for (std::size_t k = 0; k < groups.size(); ++k)
    for (const std::uint32_t n : groups[k]) found[k].out.push_back(chosen[n]);
  found.erase(std::remove_if(found.begin(), found.end(),
                             [](const Exchange& exchange) { return exchange.in.empty(); }),
              found.end());
  return found;
}

std::optional<std::vector<Proposal>> shiftedFor(const SearchTask& task, const CandidatePool& pool,
                                                const PairList& pairs, const std::vector<Eye>& eyes,
                                                const std::vector<std::uint32_t>& chosen,
                                                const std::vector<std::uint32_t>& fillers,
                                                const std::vector<std::uint32_t>& wanted) {
  Group group;
  for (const std::uint32_t filler : fillers)
    group.push_back(
        static_cast<std::uint32_t>(std::find(chosen.begin(), chosen.end(), filler) - chosen.begin()));
  return Several(task, pool, pairs, eyes, chosen).shiftedFor(group, wanted);
}

}  // namespace petalproof::candidates
