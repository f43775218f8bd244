// The end of a search: nothing is left bare that a candidate could hide, and no filler is idle.

#include "engine/base/threads.h"
#include "engine/filler/internal/leeway.h"
#include "engine/filler/internal/proposals.h"
#include "engine/filler/internal/search.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cstddef>
#include <map>
#include <numeric>
#include <optional>
#include <utility>

namespace petalproof {
namespace {

constexpr int most_looks = 3;  // around what is left
constexpr std::uint64_t moves_beyond_stock = 4'000;

// Places of the grid that two or more fillers hide.
PlaceBits hiddenTwice(CandidatePool& pool, const std::vector<Eye>& eyes, std::size_t eye,
                      const std::vector<std::uint32_t>& chosen) {
  const PlaceBits& whole = eyes[eye].places;
  if (whole.bits.empty()) return {};
  PlaceBits once(whole.column0, whole.row0, whole.columns, whole.rows);
  PlaceBits twice = once;
  for (const std::uint32_t k : chosen) addTo(once, twice, pool.seen(k, eyes, eye).hidden);
  return twice;
}

}  // namespace

// By number of the pairs looked at: 1 where a chosen one hides it.
std::vector<char> FillerSearch::hiddenByChosen() const {
  std::vector<char> hidden(pairs_.size(), 0);
  for (const std::uint32_t k : chosen_)
    for (const std::uint32_t pair : pool_.covers(k)) hidden[pair] = 1;
  return hidden;
}

// Candidates that hide what the chosen ones don't of the pairs looked at, best first, while there is leeway.
std::vector<std::uint32_t> FillerSearch::missing() const {
  Leeway leeway(task_, pool_, chosen_, StockRule::kept);
  std::vector<char> hidden = hiddenByChosen();
  const auto gain = [&](std::size_t k) {
    return std::count_if(pool_.covers(k).begin(), pool_.covers(k).end(),
                         [&](std::uint32_t pair) { return hidden[pair] == 0; });
  };
  // Gains only fall, so an old one is an upper bound.
  std::vector<std::ptrdiff_t> most(pool_.size());
  forEach(pool_.size(), [&](std::size_t k) { most[k] = gain(k); });
  std::vector<std::uint32_t> found;
  for (;;) {
    const auto top = std::max_element(most.begin(), most.end());
    if (top == most.end() || *top <= 0) return found;
    const auto k = static_cast<std::size_t>(top - most.begin());
    const std::ptrdiff_t now = leeway.has(k) ? gain(k) : 0;
    if (now < *top) {
      *top = now;
      continue;
    }
    leeway.take(static_cast<std::uint32_t>(k));
    found.push_back(static_cast<std::uint32_t>(k));
    for (const std::uint32_t pair : pool_.covers(k)) hidden[pair] = 1;
    *top = 0;
  }
}

bool FillerSearch::addMissing() {
  const std::vector<std::uint32_t> found = missing();
  chosen_.insert(chosen_.end(), found.begin(), found.end());
  return !found.empty();
}

// What the chosen ones leave bare, to be covered by those that may stand beside them.
std::vector<int> FillerSearch::wantedBeyondStock() const {
  const std::vector<char> hidden = hiddenByChosen();
  const Leeway leeway(task_, pool_, chosen_, StockRule::ignored);
  CoverProblem rest = problem();
  for (std::size_t k = 0; k < pool_.size(); ++k) {
    CoverSet& set = rest.sets[k];
    set.uses.clear();
    if (!leeway.has(k)) set.covers.clear();
    set.covers.erase(std::remove_if(set.covers.begin(), set.covers.end(),
                                    [&](std::uint32_t pair) { return hidden[pair] != 0; }),
                     set.covers.end());
  }
  std::vector<int> wanted(task_.maker.kinds().size(), 0);
  for (const std::uint32_t k : coverSets(rest, {task_.seed, moves_beyond_stock, {}, task_.cancelled}).chosen)
    ++wanted[pool_[k].kind];
  return wanted;
}

// A new cover would hide what this one left bare and leave other slivers: so this one is kept, and added to.
void FillerSearch::complete(const MustHide& all) {
  for (int looks = 0; !stop();) {
    uncovered_ = leftBare(all);
    if (uncovered_.empty()) break;
    look(all, uncovered_);
    if (shiftForBare(all) || addMissing()) continue;
    if (looks++ == most_looks) break;
    std::vector<glm::dvec2> places;
    for (const Pair& pair : uncovered_) places.push_back(placeOf(pair));
    const std::size_t before = pool_.size();
    pool_.add(proposeFor(task_, places, cell_mm_));
    if (pool_.size() == before) break;
    look(all, {});
    if (!addMissing()) break;
  }
  removeIdle(all);
}

bool FillerSearch::coversMost(const std::vector<std::uint32_t>& sets) const {
  std::vector<char> hidden(pairs_.size(), 0);
  for (const std::uint32_t k : sets)
    for (const std::uint32_t pair : pool_.covers(k)) hidden[pair] = 1;
  return static_cast<double>(std::count(hidden.begin(), hidden.end(), 1)) >
         0.9 * static_cast<double>(hidden.size());
}

// On wide bare board a whole lattice leaves no slivers, where a cover of the pairs looked at leaves many.
void FillerSearch::preferWholeLattice(const MustHide& all) {
  constexpr std::size_t most_tried = 4;
  std::sort(whole_lattices_.begin(), whole_lattices_.end(),
            [](const auto& a, const auto& b) { return std::pair(a.size(), a) < std::pair(b.size(), b); });
  std::size_t tried = 0;
  for (const std::vector<std::uint32_t>& lattice : whole_lattices_) {
    if (stop() || tried == most_tried || lattice.size() > chosen_.size() + chosen_.size() / 10) return;
    if (!coversMost(lattice)) continue;
    ++tried;
    const std::vector<std::uint32_t> kept = std::exchange(chosen_, {});
    const std::vector<Pair> left = uncovered_;
    Leeway leeway(task_, pool_, {}, StockRule::kept);
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

// Beside `rest` the proposals, by their numbers; false, and nothing is chosen anew, where one can't stand.
bool FillerSearch::put(const std::vector<std::uint32_t>& rest, const std::vector<Proposal>& in,
                       std::vector<std::uint32_t>& numbers) {
  pool_.add(in);
  pool_.findCovers(pairs_, eyes_);
  numbers = pool_.numbersOf(in);
  if (numbers.size() < in.size()) return false;
  Leeway leeway(task_, pool_, rest, StockRule::kept);
  for (const std::uint32_t k : numbers) {
    if (!leeway.has(k)) return false;
    leeway.take(k);
  }
  chosen_ = rest;
  chosen_.insert(chosen_.end(), numbers.begin(), numbers.end());
  return true;
}

// Others in place of some of the chosen, if they leave less bare or, where they are fewer, no more. What they
// do leave they are shifted for again, as long as that helps. True if they stay.
bool FillerSearch::exchange(const MustHide& all, const Exchange& one) {
  constexpr int most_shifts = 12;
  const std::vector<std::uint32_t> kept = chosen_;
  const std::vector<Pair> left = uncovered_;
  std::vector<std::uint32_t> rest;
  for (const std::uint32_t k : kept)
    if (std::find(one.out.begin(), one.out.end(), k) == one.out.end()) rest.push_back(k);
  std::vector<Proposal> in = one.in;
  std::vector<std::uint32_t> numbers;
  for (int shift = 0; shift < most_shifts && put(rest, in, numbers); ++shift) {
    uncovered_ = leftBare(all);
    if (uncovered_.size() < left.size() + (in.size() < one.out.size() ? 1 : 0)) return true;
    std::vector<Pair> fresh;
    for (const Pair& pair : uncovered_)
      if (std::find(left.begin(), left.end(), pair) == left.end()) fresh.push_back(pair);
    const std::size_t before = pairs_.size();
    look(all, fresh);
    std::vector<std::uint32_t> more(pairs_.size() - before);
    std::iota(more.begin(), more.end(), static_cast<std::uint32_t>(before));
    more.insert(more.end(), one.too.begin(), one.too.end());
    const auto again = shiftedFor(task_, pool_, pairs_, eyes_, chosen_, numbers, more);
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
bool FillerSearch::shiftForBare(const MustHide& all) {
  constexpr std::size_t together[] = {1, 3, 7, 14};
  constexpr std::size_t few = 14;  // fillers in all
  constexpr int most_tries = 2;    // at a place
  constexpr double block_mm = 8;
  const std::vector<char> hidden = hiddenByChosen();
  std::map<std::pair<int, int>, std::vector<std::uint32_t>> bare;
  for (std::uint32_t k = 0; k < pairs_.size(); ++k)
    if (hidden[k] == 0)
      bare[{static_cast<int>(pairs_.at(k).x / block_mm), static_cast<int>(pairs_.at(k).y / block_mm)}]
          .push_back(k);
  bool any = false;
  for (const auto& [block, pairs] : bare) {
    if (stop() || shifted_for_[block]++ >= most_tries) continue;
    for (const std::size_t most : together) {
      if (most >= few && chosen_.size() > few) break;
      const std::vector<std::uint32_t> near = nearestChosen(pairs_.at(pairs.front()), most);
      const auto in = shiftedFor(task_, pool_, pairs_, eyes_, chosen_, near, pairs);
      if (!in || !exchange(all, {near, *in, pairs})) continue;
      any = true;
      break;
    }
  }
  return any;
}

// Fewer fillers in place of several beside each other, as long as there are any.
void FillerSearch::shiftForFewer(const MustHide& all) {
  constexpr int most_passes = 6;
  for (int pass = 0; pass < most_passes && !stop(); ++pass) {
    const std::size_t before = chosen_.size();
    for (const Exchange& one : exchangesForFewer(task_, pool_, pairs_, eyes_, chosen_)) {
      const bool are_there = std::all_of(one.out.begin(), one.out.end(), [&](std::uint32_t k) {
        return std::find(chosen_.begin(), chosen_.end(), k) != chosen_.end();
      });
      if (are_there && !stop()) exchange(all, one);
    }
    if (chosen_.size() == before) return;
    removeIdle(all);
  }
}

// By filler: whether it alone hides something that the eye must not see.
std::vector<char> FillerSearch::aloneFor(const MustHide& all, std::size_t eye) {
  std::vector<char> alone(chosen_.size(), 0);
  if (!all.eyes[eye].places.bits.empty()) {
    const PlaceBits twice = hiddenTwice(pool_, eyes_, eye, chosen_);
    for (std::size_t n = 0; n < chosen_.size(); ++n)
      if (anyOnlyIn(pool_.seen(chosen_[n], eyes_, eye).hidden, all.eyes[eye].places, twice)) alone[n] = 1;
  }
  for (const glm::dvec2& place : all.eyes[eye].others) {
    std::optional<std::size_t> by;
    bool more = false;
    for (std::size_t n = 0; n < chosen_.size() && !more; ++n)
      if (mightHide(task_.maker, pool_[chosen_[n]], eyes_[eye], place) &&
          hides(pool_.seen(chosen_[n], eyes_, eye).silhouette, place)) {
        more = by.has_value();
        by = n;
      }
    if (by && !more) alone[*by] = 1;
  }
  return alone;
}

// Those that hide nothing that the others don't, the last added first.
void FillerSearch::removeIdle(const MustHide& all) {
  for (;;) {
    std::vector<std::vector<char>> alone(eyes_.size());
    forEach(eyes_.size(), [&](std::size_t eye) { alone[eye] = aloneFor(all, eye); });
    std::size_t idle = chosen_.size();
    while (idle > 0 && std::any_of(alone.begin(), alone.end(),
                                   [&](const std::vector<char>& of) { return of[idle - 1] != 0; }))
      --idle;
    if (idle == 0) return;
    chosen_.erase(chosen_.begin() + static_cast<std::ptrdiff_t>(idle - 1));
  }
}

}  // namespace petalproof
