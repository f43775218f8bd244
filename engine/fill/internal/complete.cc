// The end of a search: nothing is left bare that a candidate could hide, and no filler is idle.

#include "engine/base/threads.h"
#include "engine/candidates/best_first.h"
#include "engine/candidates/leeway.h"
#include "engine/candidates/proposals.h"
#include "engine/fill/search.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cstddef>
#include <iterator>
#include <map>
#include <numeric>
#include <utility>

namespace petalproof::fill {
namespace {

constexpr int most_looks = 3;  // around what is left
constexpr std::uint64_t moves_beyond_stock = 4'000;

}  // namespace

// By number of the pairs looked at: 1 where a chosen one hides it.
std::vector<char> FillerSearch::hiddenByChosen() const {
  return candidates::coveredBy(chosen_, pool_.allCovers(), pairs_.size());
}

// Candidates that hide what the chosen ones don't of the pairs looked at, best first, while there is leeway.
std::vector<std::uint32_t> FillerSearch::missing() const {
  const auto gain = [&](std::uint32_t k, const std::vector<char>& hidden) {
    return static_cast<double>(std::count_if(pool_.covers(k).begin(), pool_.covers(k).end(),
                                             [&](std::uint32_t pair) { return hidden[pair] == 0; }));
  };
  return candidates::bestFirst(candidates::Leeway(task_, pool_, chosen_, candidates::StockRule::kept),
                               pool_.allCovers(), hiddenByChosen(), 0, gain);
}

bool FillerSearch::addMissing() {
  const std::vector<std::uint32_t> found = missing();
  chosen_.insert(chosen_.end(), found.begin(), found.end());
  return !found.empty();
}

// What the chosen ones leave bare, to be covered by those that may stand beside them.
std::vector<int> FillerSearch::wantedBeyondStock() const {
  const std::vector<char> hidden = hiddenByChosen();
  const candidates::Leeway leeway(task_, pool_, chosen_, candidates::StockRule::ignored);
  cover::CoverProblem rest = problem();
  for (std::size_t k = 0; k < pool_.size(); ++k) {
    cover::CoverSet& set = rest.sets[k];
    set.uses.clear();
    if (!leeway.has(k)) set.covers.clear();
    set.covers.erase(std::remove_if(set.covers.begin(), set.covers.end(),
                                    [&](std::uint32_t pair) { return hidden[pair] != 0; }),
                     set.covers.end());
  }
  cover::CoverOptions options;
  options.seed = task_.seed;
  options.moves = moves_beyond_stock;
  options.changes = moves_beyond_stock * changes_each_move;
  options.cancelled = task_.cancelled;
  std::vector<int> wanted(task_.maker.kinds().size(), 0);
  for (const std::uint32_t k : cover::coverSets(rest, options).chosen) ++wanted[pool_[k].kind];
  return wanted;
}

// A new cover would hide what this one left bare and leave other slivers: so this one is kept, and added to.
void FillerSearch::complete(const candidates::MustHide& all) {
  for (int looks = 0; !stop();) {
    uncovered_ = left_.find(all, chosen_);
    if (uncovered_.empty()) break;
    look(all, uncovered_);
    if (shiftForBare(all) || addMissing()) continue;
    if (looks++ == most_looks) break;
    std::vector<glm::dvec2> places;
    for (const candidates::Pair& pair : uncovered_) places.push_back(placeOf(pair));
    const std::size_t before = pool_.size();
    pool_.add(candidates::proposeFor(task_, places, cell_mm_));
    if (pool_.size() == before) break;
    look(all, {});
    if (!addMissing()) break;
  }
  left_.removeIdle(all, chosen_);
}

bool FillerSearch::coversMost(const std::vector<std::uint32_t>& sets) const {
  const std::vector<char> hidden = candidates::coveredBy(sets, pool_.allCovers(), pairs_.size());
  return static_cast<double>(std::count(hidden.begin(), hidden.end(), 1)) >
         0.9 * static_cast<double>(hidden.size());
}

// On wide bare board a whole lattice leaves no slivers, where a cover of the pairs looked at leaves many.
void FillerSearch::preferWholeLattice(const candidates::MustHide& all) {
  constexpr std::size_t most_tried = 4;
  std::sort(whole_lattices_.begin(), whole_lattices_.end(),
            [](const auto& a, const auto& b) { return std::pair(a.size(), a) < std::pair(b.size(), b); });
  std::size_t tried = 0;
  for (const std::vector<std::uint32_t>& lattice : whole_lattices_) {
    if (stop() || tried == most_tried || lattice.size() > chosen_.size() + chosen_.size() / 10) return;
    if (!coversMost(lattice)) continue;
    ++tried;
    const std::vector<std::uint32_t> kept = std::exchange(chosen_, {});
    const std::vector<candidates::Pair> left = uncovered_;
    candidates::Leeway leeway(task_, pool_, {}, candidates::StockRule::kept);
    for (const std::uint32_t k : lattice) {
      if (!leeway.has(k)) continue;
      leeway.take(k);
      chosen_.push_back(k);
    }
    complete(all);
    if (std::pair(uncovered_.size(), chosen_.size()) < std::pair(left.size(), kept.size())) continue;
    chosen_ = kept;
    uncovered_ = left;
  }
}

// Whether the fresh ones, ascending, may all stand beside `rest`, which do.
bool FillerSearch::canStand(const std::vector<std::uint32_t>& fresh, std::vector<std::uint32_t> rest) const {
  std::sort(rest.begin(), rest.end());
  std::map<std::int32_t, double> faces;
  std::vector<int> wanted(stock_.size(), 0);
  for (const std::uint32_t k : fresh) {
    for (const std::uint32_t other : pool_.conflicts()[k])
      if (std::binary_search(rest.begin(), rest.end(), other) ||
          std::binary_search(fresh.begin(), fresh.end(), other))
        return false;
    for (const candidates::FaceHidden& face : pool_[k].takes) faces[face.bloom] += face.places;
    ++wanted[pool_[k].kind];
  }
  for (const std::uint32_t k : rest) {
    ++wanted[pool_[k].kind];
    for (const candidates::FaceHidden& face : pool_[k].takes)
      if (const auto taken = faces.find(face.bloom); taken != faces.end()) taken->second += face.places;
  }
  for (const std::uint32_t k : fresh)
    if (stock_[pool_[k].kind] >= 0 && wanted[pool_[k].kind] > stock_[pool_[k].kind]) return false;
  return std::all_of(faces.begin(), faces.end(),
                     [&](const auto& face) { return face.second <= task_.sites.faceLimit(face.first); });
}

// Beside `rest` the proposals, by their numbers; false, and nothing is chosen anew, where one can't stand.
bool FillerSearch::put(const std::vector<std::uint32_t>& rest, const std::vector<candidates::Proposal>& in,
                       std::vector<std::uint32_t>& numbers) {
  pool_.add(in);
  pool_.findCovers(pairs_, eyes_);
  numbers = pool_.numbersOf(in);
  if (numbers.size() < in.size() || !canStand(numbers, rest)) return false;
  chosen_ = rest;
  chosen_.insert(chosen_.end(), numbers.begin(), numbers.end());
  return true;
}

// Others in place of some of the chosen, if they leave less bare or, where they are fewer, no more. What they
// do leave they are shifted for again, as long as that helps. True if they stay.
bool FillerSearch::exchange(const candidates::MustHide& all, const candidates::Exchange& one) {
  constexpr int most_shifts = 12;
  const std::vector<std::uint32_t> kept = chosen_;
  const std::vector<candidates::Pair> left = uncovered_;
  std::vector<std::uint32_t> rest;
  for (const std::uint32_t k : kept)
    if (std::find(one.out.begin(), one.out.end(), k) == one.out.end()) rest.push_back(k);
  std::vector<candidates::Proposal> in = one.in;
  std::vector<std::uint32_t> numbers;
  for (int shift = 0; shift < most_shifts && put(rest, in, numbers); ++shift) {
    std::vector<std::uint32_t> changed = one.out;
    changed.insert(changed.end(), numbers.begin(), numbers.end());
    uncovered_ = left_.findAfter(changed, left, all, chosen_);
    if (uncovered_.size() < left.size() + (in.size() < one.out.size() ? 1 : 0)) return true;
    std::vector<candidates::Pair> fresh;
    std::set_difference(uncovered_.begin(), uncovered_.end(), left.begin(), left.end(),
                        std::back_inserter(fresh));
    const std::size_t before = pairs_.size();
    look(all, fresh);
    std::vector<std::uint32_t> more(pairs_.size() - before);
    std::iota(more.begin(), more.end(), static_cast<std::uint32_t>(before));
    more.insert(more.end(), one.too.begin(), one.too.end());
    const auto again = candidates::shiftedFor(task_, pool_, pairs_, eyes_, chosen_, numbers, more);
    if (!again) break;
    in = *again;
  }
  chosen_ = kept;
  uncovered_ = left;
  return false;
}

// Those that come nearest to hiding a place.
std::vector<std::uint32_t> FillerSearch::nearestChosen(glm::dvec2 place, std::size_t most) const {
  std::vector<std::pair<double, std::uint32_t>> near;
  for (const std::uint32_t k : chosen_)
    near.emplace_back(glm::distance(pool_[k].site.board_mm, place) - pool_.kindOf(k).diameter_mm / 2, k);
  std::sort(near.begin(), near.end());
  near.resize(std::min(near.size(), most));
  std::vector<std::uint32_t> numbers;
  for (const auto& [distance, k] : near) numbers.push_back(k);
  return numbers;
}

// Slivers beside fillers go when those are shifted a little; a filler for each would be many. True if any
// did.
bool FillerSearch::shiftForBare(const candidates::MustHide& all) {
  constexpr std::size_t together[] = {1, 3, 7, 14};
  constexpr std::size_t few = 14;  // fillers in all
  constexpr int most_tries = 2;    // at a place
  constexpr double block_mm = 8;
  constexpr std::size_t most_in_vain = 64;  // one after the other
  const std::vector<char> hidden = hiddenByChosen();
  std::map<std::pair<int, int>, std::vector<std::uint32_t>> bare;
  for (std::uint32_t k = 0; k < pairs_.size(); ++k)
    if (hidden[k] == 0)
      bare[{static_cast<int>(pairs_.at(k).x / block_mm), static_cast<int>(pairs_.at(k).y / block_mm)}]
          .push_back(k);
  bool any = false;
  // Where much must stay bare there are far more places than it is worth trying at.
  std::size_t tries_left = chosen_.size() + few;
  std::size_t in_vain = 0;
  for (const auto& [block, pairs] : bare) {
    if (stop() || tries_left == 0 || in_vain == most_in_vain || shifted_for_[block]++ >= most_tries) continue;
    --tries_left;
    ++in_vain;
    for (const std::size_t most : together) {
      if (most >= few && chosen_.size() > few) break;
      const std::vector<std::uint32_t> near = nearestChosen(pairs_.at(pairs.front()), most);
      const auto in = candidates::shiftedFor(task_, pool_, pairs_, eyes_, chosen_, near, pairs);
      if (!in || !exchange(all, {near, *in, pairs})) continue;
      any = true;
      in_vain = 0;
      break;
    }
  }
  return any;
}

// Fewer fillers in place of several beside each other, as long as there are any.
void FillerSearch::shiftForFewer(const candidates::MustHide& all) {
  constexpr int most_passes = 6;
  for (int pass = 0; pass < most_passes && !stop(); ++pass) {
    const std::size_t before = chosen_.size();
    for (const candidates::Exchange& one :
         candidates::exchangesForFewer(task_, pool_, pairs_, eyes_, chosen_)) {
      const bool are_there = std::all_of(one.out.begin(), one.out.end(), [&](std::uint32_t k) {
        return std::find(chosen_.begin(), chosen_.end(), k) != chosen_.end();
      });
      if (are_there && !stop()) exchange(all, one);
    }
    if (chosen_.size() == before) return;
    left_.removeIdle(all, chosen_);
  }
}

}  // namespace petalproof::fill
