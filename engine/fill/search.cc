#include "engine/fill/search.h"

#include "engine/candidates/best_first.h"
#include "engine/candidates/fewer.h"
#include "engine/candidates/leeway.h"
#include "engine/candidates/proposals.h"
#include "engine/fill/cover_task.h"
#include "engine/gaps/gaps.h"

#include <algorithm>
#include <cstddef>
#include <tuple>

namespace petalproof::fill {
namespace {

constexpr int rounds = 3;                  // of new candidates
constexpr int scanning_rounds = 2;         // rounds that also scan the whole wall
constexpr std::uint64_t moves_each = 200;  // of the local search for each filler
constexpr std::uint64_t fewest_moves = 2'000;
constexpr std::uint64_t most_moves = 100'000;
constexpr std::size_t searches = 2;              // side by side; the best result counts
constexpr std::uint64_t moves_of_lattices = 20;  // lattices are many: each gets a share of 1 in so many moves
constexpr int few_extensions = 3;                // of the pairs looked at, in a round
constexpr int most_extensions = 8;               // likewise in the last round
constexpr double crossing_value = 4;             // of a pair on a crossing, against 1: crossings show most

}  // namespace

FillerSearch::FillerSearch(const candidates::SearchTask& task) : task_(task), choice_(task_) {}

std::vector<candidates::Candidate> FillerSearch::cover(const candidates::MustHide& must_hide, Again again) {
  choice_.lookFrom(must_hide);
  const bool first = !begun_;
  begun_ = true;
  if (first) addFirstCandidates(must_hide);
  std::vector<candidates::Pair> start;
  for (std::uint32_t eye = 0; eye < must_hide.eyes.size(); ++eye) {
    const std::vector<candidates::Pair> on_grid =
        oneInEachBlock(must_hide.eyes[eye].places, eye, task_.sites.grid(), choice_.blockPlaces());
    start.insert(start.end(), on_grid.begin(), on_grid.end());
    for (std::uint32_t k = 0; k < must_hide.eyes[eye].others.size(); ++k) start.push_back({eye, false, k});
  }
  choice_.look(must_hide, start);
  // A new cover would leave new slivers elsewhere, so fillers for a few more pairs are added to the first
  // cover.
  if (first || again == Again::search) search(must_hide);
  choice_.complete(must_hide);
  if (first) preferWholeLattice(must_hide);
  if (again == Again::improve) improve(must_hide);
  if (first || again != Again::add) choice_.shiftForFewer(must_hide);
  std::vector<candidates::Candidate> answer;
  for (const std::uint32_t k : choice_.chosen()) answer.push_back(choice_.pool()[k]);
  return answer;
}

void FillerSearch::search(const candidates::MustHide& must_hide) {
  for (int round = 0; round < rounds; ++round) {
    throwIfStopAsked(task_.stop);
    const bool is_last = round + 1 == rounds;
    settle(must_hide, is_last ? 4 * usualMoves() : usualMoves(), is_last ? most_extensions : few_extensions);
    if (task_.progress) task_.progress((round + 1.0) / (rounds + 1));
    addForHopeless();
    const candidates::CandidatePool& pool = choice_.pool();
    const candidates::PairList& pairs = choice_.pairs();
    const std::vector<std::uint32_t>& chosen = choice_.chosen();
    if (!is_last) {
      choice_.add(candidates::proposeForSeveral(task_, pool, pairs, choice_.eyes(), chosen));
      choice_.add(candidates::proposeNear(task_, pool, chosen));
    }
    if (round < scanning_rounds)
      choice_.add(candidates::proposeByPrice(task_, pool, pairs, chosen, choice_.cell_mm()));
    choice_.look(must_hide, {});
  }
}

// Looks for fewer fillers that leave no more bare, by a short search from the last answer.
void FillerSearch::improve(const candidates::MustHide& must_hide) {
  throwIfStopAsked(task_.stop);
  FillerChoice::State before = choice_.state();
  choice_.add(candidates::proposeForSeveral(task_, choice_.pool(), choice_.pairs(), choice_.eyes(),
                                            choice_.chosen()));
  choice_.look(must_hide, {});
  settle(must_hide, usualMoves(), few_extensions);
  choice_.complete(must_hide);
  if (!choice_.state().isBetterThan(before)) choice_.goBackTo(std::move(before));
}

void FillerSearch::addFirstCandidates(const candidates::MustHide& must_hide) {
  const std::vector<candidates::Proposal> proposals =
      candidates::proposeAllOver(task_, must_hide, choice_.cell_mm());
  choice_.add(proposals);
  if (!proposals.empty() && !must_hide.eyes.empty())
    addLattices(must_hide,
                static_cast<double>(proposals.front().worth) / static_cast<double>(must_hide.eyes.size()));
}

void FillerSearch::addLattices(const candidates::MustHide& must_hide, double widest) {
  constexpr std::size_t least_fillers = 8;  // fewer aren't worth a start of their own
  for (const std::vector<candidates::Proposal>& proposals :
       candidates::proposeLattices(task_, must_hide, widest)) {
    choice_.add(proposals);
    std::vector<std::uint32_t> lattice = choice_.pool().numbersOf(proposals);
    if (lattice.size() > least_fillers) lattices_.push_back(std::move(lattice));
  }
  whole_lattices_ = lattices_;
}

// Moves of the local search, by the number of fillers that may be needed.
std::uint64_t FillerSearch::usualMoves() const {
  std::size_t covered = 0;
  for (std::size_t k = 0; k < choice_.pool().size(); ++k)
    covered = std::max(covered, choice_.pool().covers(k).size());
  const std::uint64_t fillers = covered == 0 ? 0 : 2 * choice_.pairs().size() / covered;
  return std::clamp(moves_each * fillers, fewest_moves, most_moves);
}

// Solves, looks at pairs that the solution leaves bare and that were not looked at, and solves again.
void FillerSearch::settle(const candidates::MustHide& must_hide, std::uint64_t moves, int most) {
  constexpr std::uint64_t shorter_again = 4;  // the next solutions start from the last
  solve(moves);
  choice_.findUncovered(must_hide);
  for (int again = 0; again < most && extendPairs(must_hide); ++again) {
    solve(moves / shorter_again);
    choice_.findUncovered(must_hide);
  }
}

// Looks closely around pairs that no candidate hides.
void FillerSearch::addForHopeless() {
  constexpr double block_mm = 8;
  std::vector<char> hidden(choice_.pairs().size(), 0);
  for (std::size_t k = 0; k < choice_.pool().size(); ++k)
    for (const std::uint32_t pair : choice_.pool().covers(k)) hidden[pair] = 1;
  std::vector<glm::dvec2> places;
  for (const std::uint32_t k : bare_) {
    const glm::dvec2 at = choice_.pairs().at(k);
    const std::pair<int, int> block(static_cast<int>(at.x / block_mm), static_cast<int>(at.y / block_mm));
    if (hidden[k] == 0 && looked_at_.insert(block).second) places.push_back(at);
  }
  choice_.add(candidates::proposeFor(task_, places, choice_.cell_mm()));
}

// Looks at the pairs that the choice leaves bare too; true if there were new ones. Beside pairs that the
// cover leaves bare anyway there is nothing to learn.
bool FillerSearch::extendPairs(const candidates::MustHide& must_hide) {
  const std::size_t before = choice_.pairs().size();
  const candidates::PlaceGrid& grid = task_.sites.grid();
  const auto blockOf = [&](const candidates::Pair& pair) {
    return std::tuple(pair.eye, grid.columnOf(pair.index) / choice_.blockPlaces(),
                      grid.rowOf(pair.index) / choice_.blockPlaces());
  };
  std::set<std::tuple<std::uint32_t, int, int>> given_up;
  for (const std::uint32_t k : bare_)
    if (choice_.pairs()[k].on_grid) given_up.insert(blockOf(choice_.pairs()[k]));
  std::vector<candidates::Pair> fresh;
  for (const candidates::Pair& pair : choice_.uncovered())
    if (!pair.on_grid || given_up.count(blockOf(pair)) == 0) fresh.push_back(pair);
  choice_.look(must_hide, fresh);
  return choice_.pairs().size() != before;
}

cover::CoverProblem FillerSearch::problem() const {
  std::vector<double> values(choice_.pairs().size());
  task_.workers.forEach(values.size(), [&](std::size_t k) {
    const gaps::Owner owner = gaps::ownerOf(task_.scene.panels, {choice_.pairs().at(k)});
    values[k] = owner.kind == gaps::GapKind::crossing ? crossing_value : 1;
  });
  return coverProblem(task_, choice_.pool(), std::move(values), choice_.pool().allCovers());
}

void FillerSearch::solve(std::uint64_t moves) {
  const cover::CoverProblem made = problem();
  std::vector<cover::CoverOptions> tries(searches + lattices_.size());
  for (std::size_t k = 0; k < tries.size(); ++k) {
    tries[k].seed = task_.seed + k;
    tries[k].moves = k < searches ? moves : moves / moves_of_lattices;
    tries[k].changes = tries[k].moves * changes_each_move;
    tries[k].start = k < searches ? choice_.chosen() : lattices_[k - searches];
    tries[k].stop = task_.stop;
  }
  lattices_.clear();
  std::vector<cover::CoverResult> found(tries.size());
  task_.workers.forEach(tries.size(), [&](std::size_t k) { found[k] = cover::coverSets(made, tries[k]); });
  const auto best = std::min_element(found.begin(), found.end(), [](const auto& a, const auto& b) {
    return std::pair(a.uncovered.size(), a.chosen.size()) < std::pair(b.uncovered.size(), b.chosen.size());
  });
  choice_.choose(std::move(best->chosen));
  bare_ = std::move(best->uncovered);
}

bool FillerSearch::coversMost(const std::vector<std::uint32_t>& candidates) const {
  constexpr double most = 0.9;
  const std::vector<char> hidden =
      candidates::coveredBy(candidates, choice_.pool().allCovers(), choice_.pairs().size());
  return static_cast<double>(std::count(hidden.begin(), hidden.end(), 1)) >
         most * static_cast<double>(hidden.size());
}

// On wide bare board a whole lattice leaves no slivers, where a cover of the pairs looked at leaves many.
void FillerSearch::preferWholeLattice(const candidates::MustHide& must_hide) {
  constexpr std::size_t most_tried = 4;
  constexpr std::size_t spare_share =
      10;  // a lattice may have 1 filler in so many more, which may prove idle
  std::sort(whole_lattices_.begin(), whole_lattices_.end(),
            [](const auto& a, const auto& b) { return std::pair(a.size(), a) < std::pair(b.size(), b); });
  std::size_t tried = 0;
  for (const std::vector<std::uint32_t>& lattice : whole_lattices_) {
    const std::size_t count = choice_.chosen().size();
    if (tried == most_tried || lattice.size() > count + count / spare_share) return;
    if (!coversMost(lattice)) continue;
    ++tried;
    FillerChoice::State before = choice_.state();
    candidates::Leeway leeway(task_, choice_.pool(), {}, candidates::StockRule::kept);
    std::vector<std::uint32_t> possible;
    for (const std::uint32_t k : lattice) {
      if (!leeway.has(k)) continue;
      leeway.take(k);
      possible.push_back(k);
    }
    choice_.choose(std::move(possible));
    choice_.complete(must_hide);
    if (!choice_.state().isBetterThan(before)) choice_.goBackTo(std::move(before));
  }
}

// Covers the pairs that the answer leaves bare by candidates that may hang beside it, without limits of
// stock.
std::vector<int> FillerSearch::wantedBeyondStock() const {
  constexpr std::uint64_t moves = 4'000;  // a rough answer is enough for words
  const std::vector<char> hidden = choice_.hiddenByChosen();
  const candidates::Leeway leeway(task_, choice_.pool(), choice_.chosen(), candidates::StockRule::ignored);
  cover::CoverProblem left = problem();
  for (std::size_t k = 0; k < choice_.pool().size(); ++k) {
    cover::CoverSet& set = left.sets[k];
    set.uses.clear();
    if (!leeway.has(k)) set.covers.clear();
    set.covers.erase(std::remove_if(set.covers.begin(), set.covers.end(),
                                    [&](std::uint32_t pair) { return hidden[pair] != 0; }),
                     set.covers.end());
  }
  cover::CoverOptions options;
  options.seed = task_.seed;
  options.moves = moves;
  options.changes = moves * changes_each_move;
  options.stop = task_.stop;
  std::vector<int> wanted(task_.maker.kinds().size(), 0);
  for (const std::uint32_t k : cover::coverSets(left, options).chosen) ++wanted[choice_.pool()[k].kind];
  return wanted;
}

std::vector<glm::dvec2> FillerSearch::givenUp() const {
  std::vector<glm::dvec2> places;
  for (const candidates::Pair& pair : choice_.uncovered()) places.push_back(choice_.placeOf(pair));
  return places;
}

}  // namespace petalproof::fill
