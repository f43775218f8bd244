#include "engine/cover/internal/cover_search.h"

#include "engine/base/stopping.h"

#include <algorithm>
#include <queue>

namespace petalproof::cover {
namespace {

// At most so many uncovered elements gain weight in a move, or raising weights would take all the time.
constexpr std::size_t raised_in_a_move = 100;
constexpr std::uint64_t moves_between_looks = 64;  // asking whether to stop takes about as long as a move
// Limits and conflicts can lead round in circles; a set of no merit now and then leads out.
constexpr std::size_t moves_between_whims = 20;

}  // namespace

CoverSearch::CoverSearch(const CoverProblem& problem, const std::vector<char>& needed,
                         const std::vector<std::uint32_t>& start, const CoverOptions& options)
    : state_(problem, needed),
      options_(options),
      random_(options.seed),
      possible_(problem.sets.size()),
      touched_(problem.elements, 0),
      changed_(problem.sets.size(), 0) {
  for (std::uint32_t set = 0; set < possible_.size(); ++set) possible_[set] = state_.fitsAlone(set) ? 1 : 0;
  best_value_left_ = state_.valueLeft();
  for (const std::uint32_t set : start)
    if (!state_.isChosen(set) && state_.fits(set)) put(set);
  coverGreedily();
  removeIdle();
  keepIfBest();
}

void CoverSearch::put(std::uint32_t set) {
  state_.add(set);
  changed_[set] = ++now_;
  for (const std::uint32_t element : state_.elementsOf(set)) touched_[element] = now_;
}

void CoverSearch::take(std::uint32_t set) {
  state_.remove(set);
  changed_[set] = ++now_;
  for (const std::uint32_t element : state_.elementsOf(set)) touched_[element] = now_;
}

// Adds the set with the greatest score per weight, again and again. Scores only fall, so an old score is an
// upper bound.
void CoverSearch::coverGreedily() {
  using Entry = std::pair<double, std::uint32_t>;
  const auto worse = [](const Entry& a, const Entry& b) {
    return a.first != b.first ? a.first < b.first : a.second > b.second;
  };
  std::priority_queue<Entry, std::vector<Entry>, decltype(worse)> queue(worse);
  for (std::uint32_t set = 0; set < possible_.size(); ++set)
    if (!state_.isChosen(set) && state_.score(set) > 0) queue.emplace(state_.scorePerCost(set), set);
  while (!queue.empty() && state_.valueLeft() > 0) {
    const Entry top = queue.top();
    queue.pop();
    const double fresh = state_.scorePerCost(top.second);
    if (fresh <= 0 || !state_.fits(top.second)) continue;
    if (fresh < top.first)
      queue.emplace(fresh, top.second);
    else
      put(top.second);
  }
}

// Removes sets that cover no element alone, heaviest first.
void CoverSearch::removeIdle() {
  for (;;) {
    std::optional<std::uint32_t> idle;
    for (const std::uint32_t set : state_.chosen())
      if (state_.score(set) == 0 &&
          (!idle || std::pair(state_.costOf(set), set) > std::pair(state_.costOf(*idle), *idle)))
        idle = set;
    if (!idle) return;
    take(*idle);
  }
}

void CoverSearch::keepIfBest() {
  const std::pair now(state_.valueLeft(), state_.cost());
  if (!best_.empty() && now >= std::pair(best_value_left_, best_cost_)) return;
  best_ = state_.chosen();
  best_value_left_ = now.first;
  best_cost_ = now.second;
}

bool CoverSearch::ends(std::uint64_t move, std::uint64_t most_changes) const {
  if (move % moves_between_looks == 0) throwIfStopAsked(options_.stop);
  return most_changes > 0 && state_.changes() > most_changes;
}

std::uint64_t CoverSearch::coverMore(std::uint64_t moves) {
  std::uint64_t made = 0;
  for (; made < moves && state_.valueLeft() > 0 && !ends(made, options_.changes / 2); ++made) {
    const auto& uncovered = state_.uncovered();
    addFor(uncovered[random_.below(uncovered.size())], false);
    if (state_.valueLeft() <= best_value_left_) {
      removeIdle();
      keepIfBest();
    }
    raiseUncovered();
  }
  return made;
}

void CoverSearch::lighten(std::uint64_t moves) {
  for (std::uint64_t made = 0; made < moves && !ends(made, options_.changes); ++made) {
    if (state_.valueLeft() == 0) {
      removeIdle();
      keepIfBest();
    }
    if (state_.chosen().empty()) return;
    move();
  }
  if (state_.valueLeft() == 0) {
    removeIdle();
    keepIfBest();
  }
}

// Removes a set, then adds sets while the whole stays lighter than the best. Stops where an added set removes
// another, which could go on for ever.
void CoverSearch::move() {
  if (const auto out = leastMissed()) take(*out);
  for (std::size_t left = state_.chosen().size() + 1; left > 0 && state_.valueLeft() > 0; --left) {
    const auto& uncovered = state_.uncovered();
    const std::size_t before = state_.chosen().size();
    const bool added = addFor(uncovered[random_.below(uncovered.size())], true);
    raiseUncovered();
    if (!added || state_.chosen().size() <= before) return;
  }
}

void CoverSearch::raiseUncovered() {
  const auto& uncovered = state_.uncovered();
  const std::size_t count = std::min(uncovered.size(), raised_in_a_move);
  if (count == 0) return;
  const std::size_t first = count < uncovered.size() ? random_.below(uncovered.size()) : 0;
  for (std::size_t i = 0; i < count; ++i) state_.raiseWeight(uncovered[(first + i) % uncovered.size()]);
}

// The chosen set with the least score per weight, among the users of `resource` if it is given; of equals the
// set that was added first.
std::optional<std::uint32_t> CoverSearch::leastMissed(std::uint32_t resource) const {
  std::optional<std::uint32_t> least;
  double least_score = 0;
  const bool any = resource == CoverState::no_resource;
  for (const std::uint32_t set : any ? state_.chosen() : state_.usersOf(resource)) {
    if (any && set == last_put_) continue;
    const double score = state_.scorePerCost(set);
    if (least && (score > least_score || (score == least_score && changed_[set] > changed_[*least])))
      continue;
    least = set;
    least_score = score;
  }
  return least;
}

// Losses are added set by set. An element that two removed sets cover together counts for neither: good
// enough to choose by.
double CoverSearch::gainOf(std::uint32_t set) {
  double gain = state_.scorePerCost(set);
  if (state_.inTheWay(set) > 0) {
    std::int64_t lost = 0;
    state_.forEachInTheWay(set, [&](std::uint32_t other) { lost += state_.score(other); });
    gain -= static_cast<double>(lost) / static_cast<double>(state_.costOf(set));
  }
  const std::uint32_t resource = state_.exceeded(set);
  if (resource == CoverState::no_resource) return gain;
  return gain - leastMissedScore(resource);
}

// Looked up once for each call of bestFor().
double CoverSearch::leastMissedScore(std::uint32_t resource) {
  for (const auto& [known, score] : least_missed_)
    if (known == resource) return score;
  const auto out = leastMissed(resource);
  least_missed_.emplace_back(resource, out ? state_.scorePerCost(*out) : 0.0);
  return least_missed_.back().second;
}

bool CoverSearch::betterThan(const Candidate& a, const Candidate& b) const {
  return a.gain != b.gain ? a.gain > b.gain : changed_[a.set] < changed_[b.set];
}

// Whether a neighbour was added or removed since the set was removed: else adding it only undoes its removal.
bool CoverSearch::changedAround(std::uint32_t set) const {
  if (changed_[set] == 0) return true;
  const auto elements = state_.elementsOf(set);
  return std::any_of(elements.begin(), elements.end(),
                     [&](std::uint32_t element) { return touched_[element] > changed_[set]; });
}

std::optional<CoverSearch::Candidate> CoverSearch::randomFor(std::uint32_t element) {
  const auto sets = state_.setsOf(element);
  const std::uint32_t set = sets[random_.below(sets.size())];
  return possible_[set] != 0 ? std::optional(Candidate{set, 0}) : std::nullopt;
}

// The best set that covers the element and doesn't only undo a removal. Where every set would, and weight
// doesn't matter yet, the best of those: a set that a distant set pushed out must be able to come back.
std::optional<CoverSearch::Candidate> CoverSearch::bestFor(std::uint32_t element, bool within_best) {
  std::optional<Candidate> best;
  std::optional<Candidate> undoing;
  least_missed_.clear();
  if (!within_best && random_.below(moves_between_whims) == 0) return randomFor(element);
  for (const std::uint32_t set : state_.setsOf(element)) {
    if (possible_[set] == 0) continue;
    if (within_best && state_.cost() + state_.costOf(set) >= best_cost_) continue;
    const Candidate candidate{set, gainOf(set)};
    if (!undoing || betterThan(candidate, *undoing)) undoing = candidate;
    if ((!best || betterThan(candidate, *best)) && changedAround(set)) best = candidate;
  }
  return best || within_best ? best : undoing;
}

// Adds the best set for the element, after removing the sets in its way.
bool CoverSearch::addFor(std::uint32_t element, bool within_best) {
  const auto found = bestFor(element, within_best);
  if (!found) return false;
  const std::uint32_t set = found->set;
  for (const std::uint32_t other : state_.conflictsOf(set))
    if (state_.isChosen(other)) take(other);
  for (;;) {
    const std::uint32_t resource = state_.exceeded(set);
    if (resource == CoverState::no_resource) break;
    const auto out = leastMissed(resource);
    if (!out) return false;
    take(*out);
  }
  put(set);
  last_put_ = set;
  return true;
}

}  // namespace petalproof::cover
