// Where fewer fillers might hide what several do.

#include "engine/base/hash.h"
#include "engine/base/threads.h"
#include "engine/filler/internal/fitting.h"
#include "engine/filler/internal/proposals.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <utility>

namespace petalproof {
namespace {

constexpr std::size_t neighbours_each = 6;
// Of a filler's depth: about where its outline is that hides.
constexpr double outline_height = 0.4;

using Group = std::vector<std::uint32_t>;  // of chosen fillers

class Several {
 public:
  Several(const SearchTask& task, const CandidatePool& pool, const PairList& pairs,
          const std::vector<Eye>& eyes, const std::vector<std::uint32_t>& chosen)
      : task_(task), pool_(pool), pairs_(pairs), eyes_(eyes), chosen_(chosen), times_(pairs.size(), 0) {
    for (const std::uint32_t k : chosen)
      for (const std::uint32_t pair : pool.covers(k)) ++times_[pair];
    for (const FillerKind& kind : task.maker.kinds())
      height_ = std::max(height_, outline_height * kind.depth_mm);
  }

  // Each filler, with each of those beside it, and with two of them.
  std::vector<Group> groups() const {
    std::vector<Group> groups;
    for (std::uint32_t n = 0; n < chosen_.size(); ++n) {
      groups.push_back({n});
      const std::vector<std::uint32_t> near = beside(n);
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
    for (Proposal& one : found)
      if (!task_.maker.kinds()[one.kind].greenery)
        one.turn_deg = static_cast<int>(hashOf({task_.seed, group.front(), group.back()}) % 360);
    return found;
  }

 private:
  glm::dvec2 at(std::uint32_t n) const { return pool_[chosen_[n]].site.board_mm; }

  std::vector<std::uint32_t> beside(std::uint32_t n) const {
    std::vector<std::pair<double, std::uint32_t>> near;
    for (std::uint32_t other = 0; other < chosen_.size(); ++other) {
      const double reach =
          (pool_.kindOf(chosen_[n]).diameter_mm + pool_.kindOf(chosen_[other]).diameter_mm) / 2;
      const double apart = glm::distance(at(n), at(other));
      if (other != n && apart < 1.1 * reach) near.emplace_back(apart, other);
    }
    std::sort(near.begin(), near.end());
    near.resize(std::min(near.size(), neighbours_each));
    std::vector<std::uint32_t> numbers;
    for (const auto& [apart, other] : near) numbers.push_back(other);
    return numbers;
  }

  // Moved towards the eye to the height of an outline, so that places of several eyes lie as a filler meets
  // them.
  glm::dvec2 atHeight(std::uint32_t pair) const {
    const glm::dvec3 eye = eyes_[pairs_[pair].eye].at;
    const glm::dvec2 place = pairs_.at(pair);
    return place + (glm::dvec2(eye) - place) * std::min(0.5, height_ / eye.z);
  }

  std::vector<glm::dvec2> onlyHiddenBy(const Group& group) const {
    std::vector<std::uint32_t> covered;
    for (const std::uint32_t n : group) {
      const std::vector<std::uint32_t>& covers = pool_.covers(chosen_[n]);
      covered.insert(covered.end(), covers.begin(), covers.end());
    }
    std::sort(covered.begin(), covered.end());
    std::vector<glm::dvec2> places;
    for (std::size_t k = 0; k < covered.size();) {
      std::size_t end = k;
      while (end < covered.size() && covered[end] == covered[k]) ++end;
      if (times_[covered[k]] == end - k) places.push_back(atHeight(covered[k]));
      k = end;
    }
    return places;
  }

  const SearchTask& task_;
  const CandidatePool& pool_;
  const PairList& pairs_;
  const std::vector<Eye>& eyes_;
  const std::vector<std::uint32_t>& chosen_;
  std::vector<std::uint16_t> times_;
  double height_ = 0;
};

}  // namespace

std::vector<Proposal> proposeForSeveral(const SearchTask& task, const CandidatePool& pool,
                                        const PairList& pairs, const std::vector<Eye>& eyes,
                                        const std::vector<std::uint32_t>& chosen) {
  const Several several(task, pool, pairs, eyes, chosen);
  const std::vector<Group> groups = several.groups();
  std::vector<std::vector<Proposal>> found(groups.size());
  forEach(groups.size(), [&](std::size_t k) { found[k] = several.proposalsFor(groups[k]); });
  std::vector<Proposal> proposals;
  for (const auto& some : found) proposals.insert(proposals.end(), some.begin(), some.end());
  return proposals;
}

}  // namespace petalproof
