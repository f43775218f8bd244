#include "engine/fill/internal/left_bare.h"

#include "engine/base/hash.h"
#include "engine/base/threads.h"

#include <glm/common.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <unordered_map>

namespace petalproof::fill {
namespace {

// Of numbers of the grid, in whole blocks.
int blockFrom(int k, int block) { return std::max(0, k) / block * block; }

candidates::PlaceBits allIn(int from_column, int from_row, int to_column, int to_row) {
  const int column0 = from_column / 64 * 64;
  candidates::PlaceBits bits(column0, from_row, to_column - column0, to_row - from_row);
  for (int row = from_row; row < to_row; ++row) bits.setRun(row, from_column, to_column);
  return bits;
}

// Of all eyes, side by side; those of each are ascending.
template <class OfEye>
std::vector<candidates::Pair> ofAllEyes(std::size_t eyes, const OfEye& ofEye) {
  std::vector<std::vector<candidates::Pair>> found(eyes);
  forEach(eyes, [&](std::size_t eye) { found[eye] = ofEye(eye); });
  std::vector<candidates::Pair> left;
  for (const auto& some : found) left.insert(left.end(), some.begin(), some.end());
  return left;
}

struct Rectangle {
  glm::dvec2 low{1e300};
  glm::dvec2 high{-1e300};
  void add(glm::dvec2 place) {
    low = glm::min(low, place);
    high = glm::max(high, place);
  }
  bool meets(const candidates::Silhouette& seen) const {
    return seen.max_mm.x >= low.x && seen.max_mm.y >= low.y && seen.min_mm.x <= high.x &&
           seen.min_mm.y <= high.y;
  }
};

// Those of the chosen that may hide something in the rectangle or where a changed one does.
std::vector<std::uint32_t> besideChanged(candidates::CandidatePool& pool,
                                         const std::vector<candidates::Eye>& eyes, std::size_t eye,
                                         const std::vector<std::uint32_t>& chosen,
                                         const std::vector<std::uint32_t>& changed, Rectangle bounds) {
  for (const std::uint32_t k : changed) {
    const candidates::Silhouette& seen = pool.seen(k, eyes, eye).silhouette;
    bounds.add(seen.min_mm);
    bounds.add(seen.max_mm);
  }
  std::vector<std::uint32_t> near;
  for (const std::uint32_t k : chosen)
    if (bounds.meets(pool.seen(k, eyes, eye).silhouette)) near.push_back(k);
  return near;
}

// What each of some has, all together: ascending, each once.
template <class NumbersOf>
std::vector<std::uint32_t> joined(const std::vector<std::uint32_t>& some, const NumbersOf& numbersOf) {
  std::vector<std::uint32_t> all;
  for (const std::uint32_t k : some) {
    const std::vector<std::uint32_t>& numbers = numbersOf(k);
    all.insert(all.end(), numbers.begin(), numbers.end());
  }
  std::sort(all.begin(), all.end());
  all.erase(std::unique(all.begin(), all.end()), all.end());
  return all;
}

std::pair<int, int> squareOf(glm::dvec2 place) {
  constexpr double side_mm = 64;
  return {static_cast<int>(std::floor(place.x / side_mm)), static_cast<int>(std::floor(place.y / side_mm))};
}

}  // namespace

std::vector<candidates::Pair> oneInEachBlock(const candidates::PlaceBits& bits, std::uint32_t eye,
                                             const candidates::PlaceGrid& grid, int block_places) {
  struct Best {
    std::uint64_t hash = ~std::uint64_t{0};
    std::uint32_t place = 0;
  };
  std::unordered_map<std::uint64_t, Best> blocks;
  std::vector<std::uint64_t> order;
  bits.forEach([&](int column, int row) {
    const std::uint32_t place = grid.place(column, row);
    const std::uint64_t key = static_cast<std::uint64_t>(row / block_places) << 32 |
                              static_cast<std::uint64_t>(column / block_places);
    const auto [block, fresh] = blocks.try_emplace(key);
    if (fresh) order.push_back(key);
    const std::uint64_t hash = mixed(place * 31ULL + eye);
    if (hash < block->second.hash) block->second = {hash, place};
  });
  std::vector<candidates::Pair> pairs;
  for (const std::uint64_t key : order) pairs.push_back({eye, true, blocks[key].place});
  return pairs;
}

LeftBare::LeftBare(const candidates::PlaceGrid& grid, candidates::CandidatePool& pool, int block_places)
    : grid_(grid), pool_(pool), block_places_(block_places) {}

LeftBare::Part LeftBare::wholeGrid() const { return {0, 0, grid_.x.count(), grid_.y.count()}; }

// All that the changed ones hide, together.
LeftBare::Part LeftBare::partOf(const candidates::MustHide& all, std::size_t eye,
                                const Numbers& changed) const {
  Part part{grid_.x.count(), grid_.y.count(), 0, 0};
  for (const std::uint32_t k : changed) {
    const candidates::PlaceBits& hidden = pool_.seen(k, all.eyes, eye).hidden;
    if (hidden.bits.empty()) continue;
    part.from_column = std::min(part.from_column, blockFrom(hidden.column0, block_places_));
    part.from_row = std::min(part.from_row, blockFrom(hidden.row0, block_places_));
    part.to_column = std::max(part.to_column, hidden.column0 + hidden.columns);
    part.to_row = std::max(part.to_row, hidden.row0 + hidden.rows);
  }
  part.to_column = std::min(blockFrom(part.to_column - 1, block_places_) + block_places_, grid_.x.count());
  part.to_row = std::min(blockFrom(part.to_row - 1, block_places_) + block_places_, grid_.y.count());
  return part;
}

std::vector<candidates::Pair> LeftBare::onGrid(const candidates::MustHide& all, std::size_t eye,
                                               const Part& part, const Numbers& chosen) const {
  const candidates::PlaceBits& wanted = all.eyes[eye].places;
  if (wanted.bits.empty() || part.isEmpty()) return {};
  candidates::PlaceBits bare =
      wanted.within(allIn(part.from_column, part.from_row, part.to_column, part.to_row));
  if (!bare.any()) return {};
  for (const std::uint32_t k : chosen) bare.clear(pool_.seen(k, all.eyes, eye).hidden);
  return oneInEachBlock(bare, static_cast<std::uint32_t>(eye), grid_, block_places_);
}

// Finds which others each hides, of those not looked at yet. Not for one eye from two threads.
void LeftBare::hideOthers(const candidates::MustHide& all, std::size_t eye, const Numbers& fillers) {
  const std::vector<glm::dvec2>& others = all.eyes[eye].others;
  for (const std::uint32_t k : fillers) {
    HiddenOthers& hidden = hidden_[eye][k];
    if (hidden.looked_at == others.size()) continue;
    const candidates::Silhouette& seen = pool_.seen(k, all.eyes, eye).silhouette;
    const auto low = squareOf(seen.min_mm);
    const auto high = squareOf(seen.max_mm);
    const std::size_t known = hidden.numbers.size();
    for (auto square = others_[eye].lower_bound(low); square != others_[eye].end() && square->first <= high;
         ++square)
      if (!seen.triangles.empty() && square->first.second >= low.second &&
          square->first.second <= high.second)
        for (const std::uint32_t other : square->second)
          if (other >= hidden.looked_at && candidates::hides(seen, others[other]))
            hidden.numbers.push_back(other);
    std::sort(hidden.numbers.begin() + static_cast<std::ptrdiff_t>(known), hidden.numbers.end());
    hidden.looked_at = others.size();
  }
}

bool LeftBare::hidesOther(std::size_t eye, std::uint32_t filler, std::uint32_t other) const {
  const Numbers& numbers = hidden_[eye].at(filler).numbers;
  return std::binary_search(numbers.begin(), numbers.end(), other);
}

std::vector<candidates::Pair> LeftBare::ofEye(const candidates::MustHide& all, std::size_t eye,
                                              const Numbers& chosen) {
  std::vector<candidates::Pair> left = onGrid(all, eye, wholeGrid(), chosen);
  hideOthers(all, eye, chosen);
  std::vector<char> hidden(all.eyes[eye].others.size(), 0);
  for (const std::uint32_t k : chosen)
    for (const std::uint32_t other : hidden_[eye].at(k).numbers) hidden[other] = 1;
  for (std::uint32_t k = 0; k < hidden.size(); ++k)
    if (hidden[k] == 0) left.push_back({static_cast<std::uint32_t>(eye), false, k});
  std::sort(left.begin(), left.end());
  return left;
}

std::vector<candidates::Pair> LeftBare::ofEyeAfter(const Numbers& changed,
                                                   const std::vector<candidates::Pair>& before,
                                                   const candidates::MustHide& all, std::size_t eye,
                                                   const Numbers& chosen) {
  const auto number = static_cast<std::uint32_t>(eye);
  const Part part = partOf(all, eye, changed);
  Rectangle bounds;
  if (!part.isEmpty()) {
    bounds.add({grid_.x.at(part.from_column), grid_.y.at(part.from_row)});
    bounds.add({grid_.x.at(part.to_column - 1), grid_.y.at(part.to_row - 1)});
  }
  const Numbers near = besideChanged(pool_, all.eyes, eye, chosen, changed, bounds);
  std::vector<candidates::Pair> fresh = onGrid(all, eye, part, near);
  hideOthers(all, eye, changed);
  const Numbers touched =
      joined(changed, [&](std::uint32_t k) -> const Numbers& { return hidden_[eye].at(k).numbers; });
  for (const std::uint32_t other : touched)
    if (std::none_of(near.begin(), near.end(), [&](std::uint32_t k) { return hidesOther(eye, k, other); }))
      fresh.push_back({number, false, other});
  std::sort(fresh.begin(), fresh.end());
  std::vector<candidates::Pair> stays;
  const auto first = std::lower_bound(before.begin(), before.end(), candidates::Pair{number, false, 0});
  for (auto pair = first; pair != before.end() && pair->eye == number; ++pair)
    if (pair->on_grid ? !part.holds(grid_.columnOf(pair->index), grid_.rowOf(pair->index))
                      : !std::binary_search(touched.begin(), touched.end(), pair->index))
      stays.push_back(*pair);
  std::vector<candidates::Pair> left;
  std::merge(fresh.begin(), fresh.end(), stays.begin(), stays.end(), std::back_inserter(left));
  return left;
}

void LeftBare::lookAt(const candidates::MustHide& all) {
  others_.assign(all.eyes.size(), {});
  hidden_.resize(std::max(hidden_.size(), all.eyes.size()));
  for (std::size_t eye = 0; eye < others_.size(); ++eye)
    for (std::uint32_t k = 0; k < all.eyes[eye].others.size(); ++k)
      others_[eye][squareOf(all.eyes[eye].others[k])].push_back(k);
}

std::vector<candidates::Pair> LeftBare::find(const candidates::MustHide& all, const Numbers& chosen) {
  lookAt(all);
  return ofAllEyes(all.eyes.size(), [&](std::size_t eye) { return ofEye(all, eye, chosen); });
}

std::vector<candidates::Pair> LeftBare::findAfter(const Numbers& changed,
                                                  const std::vector<candidates::Pair>& before,
                                                  const candidates::MustHide& all, const Numbers& chosen) {
  return ofAllEyes(all.eyes.size(),
                   [&](std::size_t eye) { return ofEyeAfter(changed, before, all, eye, chosen); });
}

// By filler: whether it alone hides something that the eye must not see.
std::vector<char> LeftBare::aloneFor(const candidates::MustHide& all, std::size_t eye,
                                     const Numbers& chosen) const {
  std::vector<char> alone(chosen.size(), 0);
  const candidates::PlaceBits& wanted = all.eyes[eye].places;
  candidates::PlaceBits once(wanted.column0, wanted.row0, wanted.columns, wanted.rows);
  candidates::PlaceBits twice = once;
  for (const std::uint32_t k : chosen) addTo(once, twice, pool_.seen(k, all.eyes, eye).hidden);
  for (std::size_t n = 0; n < chosen.size(); ++n)
    alone[n] = candidates::anyOnlyIn(pool_.seen(chosen[n], all.eyes, eye).hidden, wanted, twice) ? 1 : 0;
  std::vector<std::uint32_t> times(all.eyes[eye].others.size(), 0);
  for (const std::uint32_t k : chosen)
    for (const std::uint32_t other : hidden_[eye].at(k).numbers) ++times[other];
  for (std::size_t n = 0; n < chosen.size(); ++n)
    for (const std::uint32_t other : hidden_[eye].at(chosen[n]).numbers)
      if (times[other] == 1) alone[n] = 1;
  return alone;
}

bool LeftBare::isAloneFor(const candidates::MustHide& all, std::size_t eye, std::uint32_t one,
                          const Numbers& chosen) const {
  Numbers others;
  for (const std::uint32_t k : chosen)
    if (k != one) others.push_back(k);
  candidates::PlaceBits own = all.eyes[eye].places.within(pool_.seen(one, all.eyes, eye).hidden);
  for (const std::uint32_t k : others) own.clear(pool_.seen(k, all.eyes, eye).hidden);
  if (own.any()) return true;
  const Numbers& hidden = hidden_[eye].at(one).numbers;
  return std::any_of(hidden.begin(), hidden.end(), [&](std::uint32_t other) {
    return std::none_of(others.begin(), others.end(),
                        [&](std::uint32_t k) { return hidesOther(eye, k, other); });
  });
}

// One that is taken out makes the others less idle, so each need be looked at only once.
void LeftBare::removeIdle(const candidates::MustHide& all, Numbers& chosen) {
  lookAt(all);
  std::vector<std::vector<char>> alone(all.eyes.size());
  forEach(alone.size(), [&](std::size_t eye) {
    hideOthers(all, eye, chosen);
    alone[eye] = aloneFor(all, eye, chosen);
  });
  for (std::size_t n = chosen.size(); n-- > 0;) {
    const bool was_alone =
        std::any_of(alone.begin(), alone.end(), [&](const std::vector<char>& of) { return of[n] != 0; });
    if (was_alone) continue;
    bool is_alone = false;
    for (std::size_t eye = 0; eye < all.eyes.size() && !is_alone; ++eye)
      is_alone = isAloneFor(all, eye, chosen[n], chosen);
    if (!is_alone) chosen.erase(chosen.begin() + static_cast<std::ptrdiff_t>(n));
  }
}

}  // namespace petalproof::fill
