#include "engine/fill/internal/left_bare.h"

#include "engine/base/hash.h"

#include <glm/common.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <unordered_map>

namespace petalproof::fill {
namespace {

// The first column (or row) of the block that holds a column (or row).
int blockFrom(int k, int block) { return std::max(0, k) / block * block; }

candidates::PlaceBits allIn(int from_column, int from_row, int to_column, int to_row) {
  const int column0 = from_column / 64 * 64;
  candidates::PlaceBits bits(column0, from_row, to_column - column0, to_row - from_row);
  for (int row = from_row; row < to_row; ++row) bits.setRun(row, from_column, to_column);
  return bits;
}

// The pairs of all eyes, found side by side; ofEye(eye) gives each eye's, ascending.
template <class OfEye>
std::vector<candidates::Pair> ofAllEyes(std::size_t eyes, const Pool& workers, const OfEye& ofEye) {
  std::vector<std::vector<candidates::Pair>> found(eyes);
  workers.forEach(eyes, [&](std::size_t eye) { found[eye] = ofEye(eye); });
  std::vector<candidates::Pair> left;
  for (const auto& of_eye : found) left.insert(left.end(), of_eye.begin(), of_eye.end());
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

// The chosen fillers that may hide places in the rectangle or near a changed filler.
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

// The numbers of all fillers together: ascending, each once.
template <class NumbersOf>
std::vector<std::uint32_t> joined(const std::vector<std::uint32_t>& fillers, const NumbersOf& numbersOf) {
  std::vector<std::uint32_t> together;
  for (const std::uint32_t k : fillers) {
    const std::vector<std::uint32_t>& numbers = numbersOf(k);
    together.insert(together.end(), numbers.begin(), numbers.end());
  }
  std::sort(together.begin(), together.end());
  together.erase(std::unique(together.begin(), together.end()), together.end());
  return together;
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

LeftBare::LeftBare(const candidates::PlaceGrid& grid, candidates::CandidatePool& pool, int block_places,
                   const Pool& workers)
    : grid_(grid), pool_(pool), block_places_(block_places), workers_(workers) {}

LeftBare::Part LeftBare::wholeGrid() const { return {0, 0, grid_.x.count(), grid_.y.count()}; }

// The rectangle around everything that the changed fillers hide.
LeftBare::Part LeftBare::partOf(const candidates::MustHide& must_hide, std::size_t eye,
                                const Numbers& changed) const {
  Part part{grid_.x.count(), grid_.y.count(), 0, 0};
  for (const std::uint32_t k : changed) {
    const candidates::PlaceBits& hidden = pool_.seen(k, must_hide.eyes, eye).hidden;
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

std::vector<candidates::Pair> LeftBare::onGrid(const candidates::MustHide& must_hide, std::size_t eye,
                                               const Part& part, const Numbers& chosen) const {
  const candidates::PlaceBits& wanted = must_hide.eyes[eye].places;
  if (wanted.bits.empty() || part.isEmpty()) return {};
  candidates::PlaceBits bare =
      wanted.within(allIn(part.from_column, part.from_row, part.to_column, part.to_row));
  if (!bare.any()) return {};
  for (const std::uint32_t k : chosen) bare.clear(pool_.seen(k, must_hide.eyes, eye).hidden);
  return oneInEachBlock(bare, static_cast<std::uint32_t>(eye), grid_, block_places_);
}

// Finds which of Eye::others each filler hides, of those not tested yet. Call for each eye from one thread at
// a time.
void LeftBare::hideOthers(const candidates::MustHide& must_hide, std::size_t eye, const Numbers& fillers) {
  const std::vector<glm::dvec2>& others = must_hide.eyes[eye].others;
  for (const std::uint32_t k : fillers) {
    HiddenOthers& hidden = hidden_[eye][k];
    if (hidden.looked_at == others.size()) continue;
    const candidates::Silhouette& seen = pool_.seen(k, must_hide.eyes, eye).silhouette;
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

std::vector<candidates::Pair> LeftBare::ofEye(const candidates::MustHide& must_hide, std::size_t eye,
                                              const Numbers& chosen) {
  std::vector<candidates::Pair> left = onGrid(must_hide, eye, wholeGrid(), chosen);
  hideOthers(must_hide, eye, chosen);
  std::vector<char> hidden(must_hide.eyes[eye].others.size(), 0);
  for (const std::uint32_t k : chosen)
    for (const std::uint32_t other : hidden_[eye].at(k).numbers) hidden[other] = 1;
  for (std::uint32_t k = 0; k < hidden.size(); ++k)
    if (hidden[k] == 0) left.push_back({static_cast<std::uint32_t>(eye), false, k});
  std::sort(left.begin(), left.end());
  return left;
}

std::vector<candidates::Pair> LeftBare::ofEyeAfter(const Numbers& changed,
                                                   const std::vector<candidates::Pair>& before,
                                                   const candidates::MustHide& must_hide, std::size_t eye,
                                                   const Numbers& chosen) {
  const auto number = static_cast<std::uint32_t>(eye);
  const Part part = partOf(must_hide, eye, changed);
  Rectangle bounds;
  if (!part.isEmpty()) {
    bounds.add({grid_.x.at(part.from_column), grid_.y.at(part.from_row)});
    bounds.add({grid_.x.at(part.to_column - 1), grid_.y.at(part.to_row - 1)});
  }
  const Numbers near = besideChanged(pool_, must_hide.eyes, eye, chosen, changed, bounds);
  std::vector<candidates::Pair> fresh = onGrid(must_hide, eye, part, near);
  hideOthers(must_hide, eye, changed);
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

void LeftBare::lookAt(const candidates::MustHide& must_hide) {
  others_.assign(must_hide.eyes.size(), {});
  hidden_.resize(std::max(hidden_.size(), must_hide.eyes.size()));
  for (std::size_t eye = 0; eye < others_.size(); ++eye)
    for (std::uint32_t k = 0; k < must_hide.eyes[eye].others.size(); ++k)
      others_[eye][squareOf(must_hide.eyes[eye].others[k])].push_back(k);
}

std::vector<candidates::Pair> LeftBare::find(const candidates::MustHide& must_hide, const Numbers& chosen) {
  lookAt(must_hide);
  return ofAllEyes(must_hide.eyes.size(), workers_,
                   [&](std::size_t eye) { return ofEye(must_hide, eye, chosen); });
}

std::vector<candidates::Pair> LeftBare::findAfter(const Numbers& changed,
                                                  const std::vector<candidates::Pair>& before,
                                                  const candidates::MustHide& must_hide,
                                                  const Numbers& chosen) {
  return ofAllEyes(must_hide.eyes.size(), workers_,
                   [&](std::size_t eye) { return ofEyeAfter(changed, before, must_hide, eye, chosen); });
}

// For each chosen filler 1 if it alone hides a place that the eye must not see.
std::vector<char> LeftBare::aloneFor(const candidates::MustHide& must_hide, std::size_t eye,
                                     const Numbers& chosen) const {
  std::vector<char> alone(chosen.size(), 0);
  const candidates::PlaceBits& wanted = must_hide.eyes[eye].places;
  candidates::PlaceBits once(wanted.column0, wanted.row0, wanted.columns, wanted.rows);
  candidates::PlaceBits twice = once;
  for (const std::uint32_t k : chosen) addTo(once, twice, pool_.seen(k, must_hide.eyes, eye).hidden);
  for (std::size_t n = 0; n < chosen.size(); ++n)
    alone[n] =
        candidates::anyOnlyIn(pool_.seen(chosen[n], must_hide.eyes, eye).hidden, wanted, twice) ? 1 : 0;
  std::vector<std::uint32_t> times(must_hide.eyes[eye].others.size(), 0);
  for (const std::uint32_t k : chosen)
    for (const std::uint32_t other : hidden_[eye].at(k).numbers) ++times[other];
  for (std::size_t n = 0; n < chosen.size(); ++n)
    for (const std::uint32_t other : hidden_[eye].at(chosen[n]).numbers)
      if (times[other] == 1) alone[n] = 1;
  return alone;
}

bool LeftBare::isAloneFor(const candidates::MustHide& must_hide, std::size_t eye, std::uint32_t filler,
                          const Numbers& chosen) const {
  Numbers others;
  for (const std::uint32_t k : chosen)
    if (k != filler) others.push_back(k);
  candidates::PlaceBits own =
      must_hide.eyes[eye].places.within(pool_.seen(filler, must_hide.eyes, eye).hidden);
  for (const std::uint32_t k : others) own.clear(pool_.seen(k, must_hide.eyes, eye).hidden);
  if (own.any()) return true;
  const Numbers& hidden = hidden_[eye].at(filler).numbers;
  return std::any_of(hidden.begin(), hidden.end(), [&](std::uint32_t other) {
    return std::none_of(others.begin(), others.end(),
                        [&](std::uint32_t k) { return hidesOther(eye, k, other); });
  });
}

// Removing a filler never makes another idle, so each filler need be looked at only once.
void LeftBare::removeIdle(const candidates::MustHide& must_hide, Numbers& chosen) {
  lookAt(must_hide);
  std::vector<std::vector<char>> alone(must_hide.eyes.size());
  workers_.forEach(alone.size(), [&](std::size_t eye) {
    hideOthers(must_hide, eye, chosen);
    alone[eye] = aloneFor(must_hide, eye, chosen);
  });
  for (std::size_t n = chosen.size(); n-- > 0;) {
    const bool was_alone = std::any_of(alone.begin(), alone.end(),
                                       [&](const std::vector<char>& of_eye) { return of_eye[n] != 0; });
    if (was_alone) continue;
    bool is_alone = false;
    for (std::size_t eye = 0; eye < must_hide.eyes.size() && !is_alone; ++eye)
      is_alone = isAloneFor(must_hide, eye, chosen[n], chosen);
    if (!is_alone) chosen.erase(chosen.begin() + static_cast<std::ptrdiff_t>(n));
  }
}

}  // namespace petalproof::fill
