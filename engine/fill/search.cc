#include "engine/fill/search.h"

#include "engine/base/threads.h"
#include "engine/candidates/proposals.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <tuple>
#include <utility>

namespace petalproof::fill {
namespace {

constexpr int rounds = 3;                  // of new candidates
constexpr int scanning_rounds = 2;         // those of them that look all over the wall
constexpr std::uint64_t moves_each = 200;  // of the local search for each filler
constexpr std::uint64_t fewest_moves = 2'000;
constexpr std::uint64_t most_moves = 100'000;
constexpr std::size_t searches = 2;              // side by side, of which the best counts
constexpr std::uint64_t moves_of_lattices = 20;  // there are many: so much fewer for each
constexpr int most_extensions = 8;               // of the pairs looked at, for each set of candidates

// A ninth of the smallest kind: some sixty places on each filler say enough, and others are added where a
// cover leaves them bare.
// Of the largest kind no less than a thousandth, or its outline in blocks would be millions.
int blockPlaces(const scene::FillerMaker& maker, double pitch_mm) {
  double smallest = 1e9;
  double largest = 0;
  for (const scene::FillerKind& kind : maker.kinds()) {
    smallest = std::min(smallest, std::sqrt(kind.diameter_mm * kind.width_mm));
    largest = std::max(largest, kind.diameter_mm);
  }
  const int usual = std::clamp(static_cast<int>(smallest / 9 / pitch_mm), 2, 16);
  return std::max(usual, static_cast<int>(largest / 1000 / pitch_mm));
}

}  // namespace

FillerSearch::FillerSearch(const candidates::SearchTask& task)
    : task_(task),
      grid_(task.sites.grid()),
      block_places_(blockPlaces(task.maker, task.sites.grid().pitch_mm)),
      cell_mm_(block_places_ * task.sites.grid().pitch_mm),
      pairs_(task.sites.grid()),
      pool_(task),
      left_(grid_, pool_, std::max(1, block_places_ / 3)),
      stock_(candidates::stockLeft(task.plan, task.maker)) {}

std::vector<candidates::Candidate> FillerSearch::cover(const candidates::MustHide& all, Again again) {
  eyes_ = all.eyes;
  pool_.readyFor(eyes_.size());
  const bool first = !begun_;
  begun_ = true;
  if (first) addFirstCandidates(all);
  std::vector<candidates::Pair> start;
  for (std::uint32_t eye = 0; eye < all.eyes.size(); ++eye) {
    const std::vector<candidates::Pair> some =
        oneInEachBlock(all.eyes[eye].places, eye, grid_, block_places_);
    start.insert(start.end(), some.begin(), some.end());
    for (std::uint32_t k = 0; k < all.eyes[eye].others.size(); ++k) start.push_back({eye, false, k});
  }
  look(all, start);
  // A new cover would leave new slivers elsewhere, so what a few more pairs need is added to the first.
  if (first || again == Again::search) search(all);
  complete(all);
  if (first) preferWholeLattice(all);
  if (again == Again::improve) improve(all);
  if (first || again != Again::add) shiftForFewer(all);
  std::vector<candidates::Candidate> answer;
  for (const std::uint32_t k : chosen_) answer.push_back(pool_[k]);
  return answer;
}

void FillerSearch::search(const candidates::MustHide& all) {
  for (int round = 0; round < rounds && !stop(); ++round) {
    const bool is_last = round + 1 == rounds;
    settle(all, is_last ? 4 * someMoves() : someMoves(), is_last ? most_extensions : 3);
    if (task_.progress) task_.progress((round + 1.0) / (rounds + 1));
    addFor();
    if (!is_last) {
      pool_.add(candidates::proposeForSeveral(task_, pool_, pairs_, eyes_, chosen_));
      pool_.add(candidates::proposeNear(task_, pool_, chosen_));
    }
    if (round < scanning_rounds)
      pool_.add(candidates::proposeByPrice(task_, pool_, pairs_, chosen_, cell_mm_));
    look(all, {});
  }
}

// Fewer that leave no more bare, if a short search from here finds them.
void FillerSearch::improve(const candidates::MustHide& all) {
  if (stop()) return;
  const std::vector<std::uint32_t> kept = chosen_;
  const std::vector<candidates::Pair> left = uncovered_;
  pool_.add(candidates::proposeForSeveral(task_, pool_, pairs_, eyes_, chosen_));
  look(all, {});
  settle(all, someMoves(), 3);
  complete(all);
  if (std::pair(uncovered_.size(), chosen_.size()) >= std::pair(left.size(), kept.size())) {
    chosen_ = kept;
    uncovered_ = left;
  }
}

void FillerSearch::addFirstCandidates(const candidates::MustHide& all) {
  const std::vector<candidates::Proposal> proposals = candidates::proposeAllOver(task_, all, cell_mm_);
  pool_.add(proposals);
  if (!proposals.empty() && !all.eyes.empty())
    addLattices(all, static_cast<double>(proposals.front().worth) / static_cast<double>(all.eyes.size()));
}

void FillerSearch::addLattices(const candidates::MustHide& all, double widest) {
  for (const std::vector<candidates::Proposal>& proposals : candidates::proposeLattices(task_, all, widest)) {
    pool_.add(proposals);
    std::vector<std::uint32_t> lattice = pool_.numbersOf(proposals);
    if (lattice.size() > 8) lattices_.push_back(std::move(lattice));
  }
  whole_lattices_ = lattices_;
}

std::uint64_t FillerSearch::someMoves() const {
  std::size_t covered = 0;
  for (std::size_t k = 0; k < pool_.size(); ++k) covered = std::max(covered, pool_.covers(k).size());
  const std::uint64_t fillers = covered == 0 ? 0 : 2 * pairs_.size() / covered;
  return std::clamp(moves_each * fillers, fewest_moves, most_moves);
}

// Solves, looks where the solution leaves something bare that was not looked at, and solves again.
void FillerSearch::settle(const candidates::MustHide& all, std::uint64_t moves, int most) {
  solve(moves);
  uncovered_ = left_.find(all, chosen_);
  for (int again = 0; again < most && extendPairs(all) && !stop(); ++again) {
    solve(moves / 4);
    uncovered_ = left_.find(all, chosen_);
  }
}

void FillerSearch::look(const candidates::MustHide& all, const std::vector<candidates::Pair>& pairs) {
  pairs_.add(all, pairs);
  pool_.findCovers(pairs_, eyes_);
}

// A close look around pairs that no candidate hides.
void FillerSearch::addFor() {
  std::vector<char> hidden(pairs_.size(), 0);
  for (std::size_t k = 0; k < pool_.size(); ++k)
    for (const std::uint32_t pair : pool_.covers(k)) hidden[pair] = 1;
  std::vector<glm::dvec2> places;
  for (const std::uint32_t k : bare_) {
    const glm::dvec2 at = pairs_.at(k);
    const std::pair<int, int> block(static_cast<int>(at.x / 8), static_cast<int>(at.y / 8));
    if (hidden[k] == 0 && looked_at_.insert(block).second) places.push_back(at);
  }
  pool_.add(candidates::proposeFor(task_, places, cell_mm_));
}

void FillerSearch::giveUpBare(candidates::MustHide& all, std::size_t first_eye) {
  for (std::size_t eye = first_eye; eye < all.eyes.size(); ++eye) {
    if (all.eyes[eye].places.bits.empty()) continue;
    candidates::PlaceBits bare = all.eyes[eye].places;
    for (const std::uint32_t k : chosen_) bare.clear(pool_.seen(k, eyes_, eye).hidden);
    all.eyes[eye].places.clear(bare);
  }
}

bool FillerSearch::extendPairs(const candidates::MustHide& all) {
  const std::size_t before = pairs_.size();
  // Beside what the cover leaves bare anyway there is nothing to learn.
  const auto blockOf = [&](const candidates::Pair& pair) {
    return std::tuple(pair.eye, grid_.columnOf(pair.index) / block_places_,
                      grid_.rowOf(pair.index) / block_places_);
  };
  std::set<std::tuple<std::uint32_t, int, int>> given_up;
  for (const std::uint32_t k : bare_)
    if (pairs_[k].on_grid) given_up.insert(blockOf(pairs_[k]));
  std::vector<candidates::Pair> fresh;
  for (const candidates::Pair& pair : uncovered_)
    if (!pair.on_grid || given_up.count(blockOf(pair)) == 0) fresh.push_back(pair);
  look(all, fresh);
  return pairs_.size() != before;
}

void FillerSearch::solve(std::uint64_t moves) {
  const cover::CoverProblem made = problem();
  std::vector<cover::CoverOptions> tries(searches + lattices_.size());
  for (std::size_t k = 0; k < tries.size(); ++k) {
    tries[k].seed = task_.seed + k;
    tries[k].moves = k < searches ? moves : moves / moves_of_lattices;
    tries[k].changes = tries[k].moves * changes_each_move;
    tries[k].start = k < searches ? chosen_ : lattices_[k - searches];
    tries[k].cancelled = task_.cancelled;
  }
  lattices_.clear();
  std::vector<cover::CoverResult> found(tries.size());
  forEach(tries.size(), [&](std::size_t k) { found[k] = cover::coverSets(made, tries[k]); });
  const auto best = std::min_element(found.begin(), found.end(), [](const auto& a, const auto& b) {
    return std::pair(a.uncovered.size(), a.chosen.size()) < std::pair(b.uncovered.size(), b.chosen.size());
  });
  chosen_ = std::move(best->chosen);
  bare_ = std::move(best->uncovered);
}

glm::dvec2 FillerSearch::placeOf(const candidates::Pair& pair) const {
  return pair.on_grid ? grid_.at(pair.index) : eyes_[pair.eye].others[pair.index];
}

std::vector<glm::dvec2> FillerSearch::givenUp() const {
  std::vector<glm::dvec2> places;
  for (const candidates::Pair& pair : uncovered_) places.push_back(placeOf(pair));
  return places;
}

}  // namespace petalproof::fill
