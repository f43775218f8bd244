#include "engine/candidates/candidate_pool.h"

#include "engine/base/units.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <set>

namespace petalproof::candidates {
namespace {

// Fillers farther apart than this share of the larger diameter don't clash, but for their plates: half of the
// smaller and a quarter of the larger, at most, and a little more.
constexpr double farthest_clash = 0.8;

}  // namespace

CandidatePool::CandidatePool(const SearchTask& task) : task_(task) {
  for (const scene::FillerKind& kind : task.maker.kinds())
    bin_mm_ = std::max({bin_mm_, kind.plate_mm, kind.diameter_mm * farthest_clash});
}

CandidatePool::Key CandidatePool::keyOf(const Proposal& proposal, const Site& site) const {
  return {proposal.kind, site.at.from_left.value, site.at.from_top.value, proposal.turn_deg};
}

std::vector<std::uint32_t> CandidatePool::numbersOf(const std::vector<Proposal>& proposals) const {
  std::vector<std::uint32_t> numbers;
  for (const Proposal& proposal : proposals) {
    const auto known = known_.find(keyOf(proposal, task_.sites.nearestSite(proposal.board_mm)));
    if (known != known_.end() && known->second != barred) numbers.push_back(known->second);
  }
  std::sort(numbers.begin(), numbers.end());
  numbers.erase(std::unique(numbers.begin(), numbers.end()), numbers.end());
  return numbers;
}

void CandidatePool::add(const std::vector<Proposal>& proposals) {
  std::vector<Candidate> fresh;
  std::vector<std::uint32_t*> numbers;  // of the fresh ones
  for (const Proposal& proposal : proposals) {
    Candidate candidate{proposal.kind, task_.sites.nearestSite(proposal.board_mm), proposal.turn_deg, {}};
    const auto [known, is_new] = known_.emplace(keyOf(proposal, candidate.site), barred);
    if (!is_new) continue;
    fresh.push_back(std::move(candidate));
    numbers.push_back(&known->second);
  }
  std::vector<char> usable(fresh.size(), 0);
  task_.workers.forEach(fresh.size(), [&](std::size_t k) {
    throwIfStopAsked(task_.stop);
    Candidate& candidate = fresh[k];
    const Barred barred =
        task_.sites.bars(candidate.kind, candidate.site, candidate.turn_deg, &candidate.takes);
    usable[k] = barred.by == Bar::none ? 1 : 0;
  });
  const std::size_t before = candidates_.size();
  for (std::size_t k = 0; k < fresh.size(); ++k)
    if (usable[k] != 0) {
      *numbers[k] = static_cast<std::uint32_t>(candidates_.size());
      candidates_.push_back(std::move(fresh[k]));
    }
  covers_.resize(candidates_.size());
  reach_mm_.resize(candidates_.size(), 0);
  findConflicts(before);
}

// Candidates with known covers that might hide one of the pairs from `from` on.
std::vector<std::uint32_t> CandidatePool::nearPairs(const PairList& pairs, std::size_t from,
                                                    const std::vector<Eye>& eyes) const {
  if (candidates_known_ == 0) return {};
  std::set<Bin> near;
  for (std::size_t k = from; k < pairs.size() && near.size() < bins_.size(); ++k) {
    const double reach =
        std::min(farthest_reach_mm, farthestHider(task_.maker, eyes[pairs[k].eye], pairs.at(k)));
    const Bin low = binAt(pairs.at(k) - reach);
    const Bin high = binAt(pairs.at(k) + reach);
    for (auto bin = bins_.lower_bound(low); bin != bins_.end() && bin->first.first <= high.first; ++bin)
      if (bin->first.second >= low.second && bin->first.second <= high.second) near.insert(bin->first);
  }
  std::vector<std::uint32_t> numbers;
  for (const Bin& bin : near)
    for (const std::uint32_t k : bins_.at(bin))
      if (k < candidates_known_) numbers.push_back(k);
  return numbers;
}

void CandidatePool::findCovers(const PairList& pairs, const std::vector<Eye>& eyes) {
  std::vector<std::uint32_t> numbers = nearPairs(pairs, pairs_known_, eyes);
  for (std::size_t k = candidates_known_; k < candidates_.size(); ++k)
    numbers.push_back(static_cast<std::uint32_t>(k));
  task_.workers.forEach(numbers.size(), [&](std::size_t n) {
    throwIfStopAsked(task_.stop);
    const std::uint32_t k = numbers[n];
    const std::size_t from = k < candidates_known_ ? pairs_known_ : 0;
    const std::vector<std::uint32_t> found = pairs.hidden(task_.maker, candidates_[k], eyes, from);
    covers_[k].insert(covers_[k].end(), found.begin(), found.end());
    for (const std::uint32_t pair : found)
      reach_mm_[k] = std::max(reach_mm_[k], glm::distance(pairs.at(pair), candidates_[k].site.board_mm));
  });
  candidates_known_ = candidates_.size();
  pairs_known_ = pairs.size();
}

Clash clash(const SearchTask& task, const Candidate& a, const Candidate& b) {
  const scene::FillerKind& kind_a = task.maker.kinds()[a.kind];
  const scene::FillerKind& kind_b = task.maker.kinds()[b.kind];
  const double apart = glm::length(a.site.board_mm - b.site.board_mm);
  if (apart < (kind_a.plate_mm + kind_b.plate_mm) / 2 + clearance_mm) return Clash::plates;
  if (kind_a.diameter_mm == kind_b.diameter_mm) return Clash::none;
  const bool a_larger = kind_a.diameter_mm > kind_b.diameter_mm;
  const Candidate& large = a_larger ? a : b;
  const Candidate& small = a_larger ? b : a;
  const scene::FillerKind& small_kind = a_larger ? kind_b : kind_a;
  const InnerHalf inner =
      task.sites.innerHalfOf(a_larger ? kind_a : kind_b, large.site.board_mm, large.turn_deg);
  if (apart > inner.half_length + small_kind.diameter_mm / 2) return Clash::none;
  // The smaller filler is taken as a disc, greenery as a row of discs along its length.
  const double radius = small_kind.width_mm / 2;
  const double half = (small_kind.diameter_mm - small_kind.width_mm) / 2;
  const double turn = radians(small.turn_deg);
  for (const double share : {-1.0, -0.5, 0.0, 0.5, 1.0}) {
    const glm::dvec2 at = small.site.board_mm + glm::dvec2(std::sin(turn), std::cos(turn)) * (share * half);
    if (reachesInto(inner, at, radius)) return Clash::innerHalf;
    if (half <= 0) break;
  }
  return Clash::none;
}

CandidatePool::Bin CandidatePool::binAt(glm::dvec2 board_mm) const {
  const glm::dvec2 at = board_mm / bin_mm_;
  return {static_cast<int>(std::floor(at.x)), static_cast<int>(std::floor(at.y))};
}

// Finds the conflicts of the candidates from `from` on, with each other and with earlier ones.
void CandidatePool::findConflicts(std::size_t from) {
  for (std::size_t k = from; k < candidates_.size(); ++k)
    bins_[binAt(candidates_[k].site.board_mm)].push_back(static_cast<std::uint32_t>(k));
  conflicts_.resize(candidates_.size());
  task_.workers.forEach(candidates_.size() - from, [&](std::size_t n) {
    throwIfStopAsked(task_.stop);
    const std::size_t k = from + n;
    const auto [column, row] = binAt(candidates_[k].site.board_mm);
    for (int r = row - 1; r <= row + 1; ++r)
      for (int c = column - 1; c <= column + 1; ++c) {
        const auto near = bins_.find({c, r});
        if (near == bins_.end()) continue;
        for (const std::uint32_t other : near->second)
          if (other != k && clash(task_, candidates_[k], candidates_[other]) != Clash::none)
            conflicts_[k].push_back(other);
      }
    std::sort(conflicts_[k].begin(), conflicts_[k].end());
  });
  for (std::size_t k = from; k < candidates_.size(); ++k)
    for (const std::uint32_t other : conflicts_[k])
      if (other < from) conflicts_[other].push_back(static_cast<std::uint32_t>(k));
}

const CandidatePool::Seen& CandidatePool::seen(std::size_t k, const std::vector<Eye>& eyes, std::size_t eye) {
  const auto [known, fresh] = seen_[eye].try_emplace(k);
  if (fresh) {
    known->second.silhouette = silhouetteOf(task_.maker, candidates_[k], eyes[eye]);
    known->second.hidden = placesHidden(known->second.silhouette, task_.sites.grid());
  }
  return known->second;
}

}  // namespace petalproof::candidates
