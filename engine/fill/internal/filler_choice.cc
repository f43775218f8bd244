#include "engine/fill/internal/filler_choice.h"

#include "engine/candidates/best_first.h"
#include "engine/candidates/leeway.h"
#include "engine/candidates/proposals.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <numeric>

namespace petalproof::fill {
namespace {

// A block is a ninth of the smallest kind: some sixty places on each filler say enough, and others are added
// where a cover leaves them bare.
int blockPlaces(const scene::FillerMaker& maker, double pitch_mm) {
  constexpr double blocks_each_filler = 9;
  constexpr int fewest = 2;
  constexpr int most = 16;
  constexpr double most_blocks_across = 1000;  // of the largest kind: its outline in blocks is kept
  double smallest = 1e9;
  double largest = 0;
  for (const scene::FillerKind& kind : maker.kinds()) {
    smallest = std::min(smallest, std::sqrt(kind.diameter_mm * kind.width_mm));
    largest = std::max(largest, kind.diameter_mm);
  }
  const int usual = std::clamp(static_cast<int>(smallest / blocks_each_filler / pitch_mm), fewest, most);
  return std::max(usual, static_cast<int>(largest / most_blocks_across / pitch_mm));
}

}  // namespace

FillerChoice::FillerChoice(const candidates::SearchTask& task)
    : task_(task),
      grid_(task.sites.grid()),
      block_places_(fill::blockPlaces(task.maker, task.sites.grid().pitch_mm)),
      cell_mm_(block_places_ * task.sites.grid().pitch_mm),
      pairs_(task.sites.grid()),
      pool_(task),
      left_(grid_, pool_, std::max(1, block_places_ / 3), task.workers),
      stock_(candidates::stockLeft(task.plan, task.maker)) {}

void FillerChoice::lookFrom(const candidates::MustHide& must_hide) {
  eyes_ = must_hide.eyes;
  pool_.readyFor(eyes_.size());
}

void FillerChoice::look(const candidates::MustHide& must_hide, const std::vector<candidates::Pair>& pairs) {
  pairs_.add(must_hide, pairs);
  pool_.findCovers(pairs_, eyes_);
}

glm::dvec2 FillerChoice::placeOf(const candidates::Pair& pair) const {
  return pair.on_grid ? grid_.at(pair.index) : eyes_[pair.eye].others[pair.index];
}

void FillerChoice::giveUpBare(candidates::MustHide& must_hide, std::size_t first_eye) {
  for (std::size_t eye = first_eye; eye < must_hide.eyes.size(); ++eye) {
    if (must_hide.eyes[eye].places.bits.empty()) continue;
    candidates::PlaceBits bare = must_hide.eyes[eye].places;
    for (const std::uint32_t k : chosen_) bare.clear(pool_.seen(k, eyes_, eye).hidden);
    must_hide.eyes[eye].places.clear(bare);
  }
}

void FillerChoice::goBackTo(State state) {
  chosen_ = std::move(state.chosen);
  uncovered_ = std::move(state.uncovered);
}

std::vector<char> FillerChoice::hiddenByChosen() const {
  return candidates::coveredBy(chosen_, pool_.allCovers(), pairs_.size());
}

// Adds the candidates that hide most of what the choice leaves bare of the pairs looked at, while there is
// leeway. True if there were any.
bool FillerChoice::addMissing() {
  const auto gain = [&](std::uint32_t k, const std::vector<char>& hidden) {
    return static_cast<double>(std::count_if(pool_.covers(k).begin(), pool_.covers(k).end(),
                                             [&](std::uint32_t pair) { return hidden[pair] == 0; }));
  };
  const Numbers found = candidates::bestFirst(
      task_.workers, candidates::Leeway(task_, pool_, chosen_, candidates::StockRule::kept),
      pool_.allCovers(), hiddenByChosen(), 0, gain);
  chosen_.insert(chosen_.end(), found.begin(), found.end());
  return !found.empty();
}

// A new cover would hide what this choice leaves bare and leave slivers elsewhere: so the choice is kept and
// added to.
void FillerChoice::complete(const candidates::MustHide& must_hide) {
  constexpr int most_close_looks = 3;
  for (int looks = 0;;) {
    throwIfStopAsked(task_.stop);
    findUncovered(must_hide);
    if (uncovered_.empty()) break;
    look(must_hide, uncovered_);
    if (shiftForBare(must_hide) || addMissing()) continue;
    if (looks++ == most_close_looks) break;
    std::vector<glm::dvec2> places;
    for (const candidates::Pair& pair : uncovered_) places.push_back(placeOf(pair));
    const std::size_t before = pool_.size();
    pool_.add(candidates::proposeFor(task_, places, cell_mm_));
    if (pool_.size() == before) break;
    look(must_hide, {});
    if (!addMissing()) break;
  }
  left_.removeIdle(must_hide, chosen_);
}

// Whether the fresh fillers, ascending, may all hang beside the kept ones, which break no rule.
bool FillerChoice::canStand(const Numbers& fresh, Numbers kept) const {
  std::sort(kept.begin(), kept.end());
  std::map<std::int32_t, double> faces;
  std::vector<int> wanted(stock_.size(), 0);
  for (const std::uint32_t k : fresh) {
    for (const std::uint32_t other : pool_.conflicts()[k])
      if (std::binary_search(kept.begin(), kept.end(), other) ||
          std::binary_search(fresh.begin(), fresh.end(), other))
        return false;
    for (const candidates::FaceHidden& face : pool_[k].takes) faces[face.bloom] += face.places;
    ++wanted[pool_[k].kind];
  }
  for (const std::uint32_t k : kept) {
    ++wanted[pool_[k].kind];
    for (const candidates::FaceHidden& face : pool_[k].takes)
      if (const auto taken = faces.find(face.bloom); taken != faces.end()) taken->second += face.places;
  }
  for (const std::uint32_t k : fresh)
    if (stock_[pool_[k].kind] >= 0 && wanted[pool_[k].kind] > stock_[pool_[k].kind]) return false;
  return std::all_of(faces.begin(), faces.end(),
                     [&](const auto& face) { return face.second <= task_.sites.faceLimit(face.first); });
}

// Chooses the kept fillers and the proposals, whose numbers it gives. False, and the choice stays, where a
// proposal can't hang beside them.
bool FillerChoice::put(const Numbers& kept, const std::vector<candidates::Proposal>& in, Numbers& numbers) {
  pool_.add(in);
  pool_.findCovers(pairs_, eyes_);
  numbers = pool_.numbersOf(in);
  if (numbers.size() < in.size() || !canStand(numbers, kept)) return false;
  chosen_ = kept;
  chosen_.insert(chosen_.end(), numbers.begin(), numbers.end());
  return true;
}

// Tries an exchange: it stays if it leaves less bare or, where the new fillers are fewer, no more. For pairs
// that they leave bare the new fillers are shifted again, as long as they can be. True if the exchange stays.
bool FillerChoice::exchange(const candidates::MustHide& must_hide, const candidates::Exchange& tried) {
  constexpr int most_shifts = 12;
  const State before = state();
  Numbers kept;
  for (const std::uint32_t k : before.chosen)
    if (std::find(tried.out.begin(), tried.out.end(), k) == tried.out.end()) kept.push_back(k);
  std::vector<candidates::Proposal> in = tried.in;
  Numbers numbers;
  for (int shift = 0; shift < most_shifts && put(kept, in, numbers); ++shift) {
    Numbers changed = tried.out;
    changed.insert(changed.end(), numbers.begin(), numbers.end());
    uncovered_ = left_.findAfter(changed, before.uncovered, must_hide, chosen_);
    if (uncovered_.size() < before.uncovered.size() + (in.size() < tried.out.size() ? 1 : 0)) return true;
    std::vector<candidates::Pair> fresh;
    std::set_difference(uncovered_.begin(), uncovered_.end(), before.uncovered.begin(),
                        before.uncovered.end(), std::back_inserter(fresh));
    const std::size_t known = pairs_.size();
    look(must_hide, fresh);
    Numbers wanted(pairs_.size() - known);
    std::iota(wanted.begin(), wanted.end(), static_cast<std::uint32_t>(known));
    wanted.insert(wanted.end(), tried.too.begin(), tried.too.end());
    const auto again = candidates::shiftedFor(task_, pool_, pairs_, eyes_, chosen_, numbers, wanted);
    if (!again) break;
    in = *again;
  }
  goBackTo(before);
  return false;
}

// The chosen fillers that come nearest to hiding a place.
FillerChoice::Numbers FillerChoice::nearestChosen(glm::dvec2 place, std::size_t most) const {
  std::vector<std::pair<double, std::uint32_t>> near;
  for (const std::uint32_t k : chosen_)
    near.emplace_back(glm::distance(pool_[k].site.board_mm, place) - pool_.kindOf(k).diameter_mm / 2, k);
  std::sort(near.begin(), near.end());
  near.resize(std::min(near.size(), most));
  Numbers numbers;
  for (const auto& [distance, k] : near) numbers.push_back(k);
  return numbers;
}

// Shifts fillers a little to hide slivers beside them: a filler for each sliver would be many. True if any
// filler was shifted.
bool FillerChoice::shiftForBare(const candidates::MustHide& must_hide) {
  constexpr std::size_t together[] = {1, 3, 7, 14};
  constexpr std::size_t few = 14;  // fillers in all
  constexpr int most_tries = 2;    // at a place
  constexpr double block_mm = 8;
  constexpr std::size_t most_in_vain = 64;  // tries in a row
  const std::vector<char> hidden = hiddenByChosen();
  std::map<std::pair<int, int>, Numbers> bare;
  for (std::uint32_t k = 0; k < pairs_.size(); ++k)
    if (hidden[k] == 0)
      bare[{static_cast<int>(pairs_.at(k).x / block_mm), static_cast<int>(pairs_.at(k).y / block_mm)}]
          .push_back(k);
  bool any = false;
  // Where much must stay bare there are far more places than it is worth trying at.
  std::size_t tries_left = chosen_.size() + few;
  std::size_t in_vain = 0;
  for (const auto& [block, pairs] : bare) {
    throwIfStopAsked(task_.stop);
    if (tries_left == 0 || in_vain == most_in_vain || shifted_for_[block]++ >= most_tries) continue;
    --tries_left;
    ++in_vain;
    for (const std::size_t most : together) {
      if (most >= few && chosen_.size() > few) break;
      const Numbers near = nearestChosen(pairs_.at(pairs.front()), most);
      const auto in = candidates::shiftedFor(task_, pool_, pairs_, eyes_, chosen_, near, pairs);
      if (!in || !exchange(must_hide, {near, *in, pairs})) continue;
      any = true;
      in_vain = 0;
      break;
    }
  }
  return any;
}

void FillerChoice::shiftForFewer(const candidates::MustHide& must_hide) {
  constexpr int most_passes = 6;
  for (int pass = 0; pass < most_passes; ++pass) {
    const std::size_t before = chosen_.size();
    for (const candidates::Exchange& fewer :
         candidates::exchangesForFewer(task_, pool_, pairs_, eyes_, chosen_)) {
      const bool are_there = std::all_of(fewer.out.begin(), fewer.out.end(), [&](std::uint32_t k) {
        return std::find(chosen_.begin(), chosen_.end(), k) != chosen_.end();
      });
      throwIfStopAsked(task_.stop);
      if (are_there) exchange(must_hide, fewer);
    }
    if (chosen_.size() == before) return;
    left_.removeIdle(must_hide, chosen_);
  }
}

}  // namespace petalproof::fill
