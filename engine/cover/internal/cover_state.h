#pragma once
// What is chosen of a cover problem, and what each set would gain or lose, kept up to date set by set.

#include "engine/cover/cover.h"
#include "engine/cover/internal/lists.h"
#include "engine/cover/internal/resource_users.h"

#include <algorithm>
#include <cstdint>
#include <span>
#include <vector>

namespace petalproof::cover {

class CoverState {
 public:
  // Nothing chosen. Only elements marked in `needed` count. Refers to `problem`, which must outlive it.
  CoverState(const CoverProblem& problem, const std::vector<char>& needed);

  const std::vector<std::uint32_t>& chosen() const { return chosen_.members(); }
  bool isChosen(std::uint32_t set) const { return chosen_.holds(set); }
  const std::vector<std::uint32_t>& uncovered() const { return uncovered_.members(); }
  std::int64_t valueLeft() const { return value_left_; }
  std::int64_t cost() const { return cost_; }
  // Scores changed so far: what takes the time.
  std::uint64_t changes() const { return changes_; }

  // Of a chosen set: the weight of what only it covers; of another: of what it would cover anew.
  std::int64_t score(std::uint32_t set) const { return scores_[set]; }
  double scorePerCost(std::uint32_t set) const {
    return static_cast<double>(scores_[set]) / static_cast<double>(costs_[set]);
  }
  std::int64_t costOf(std::uint32_t set) const { return costs_[set]; }
  std::span<const std::uint32_t> setsOf(std::uint32_t element) const { return sets_of_[element]; }
  std::span<const std::uint32_t> elementsOf(std::uint32_t set) const { return elements_of_[set]; }

  // Whether it can stand at all, alone.
  bool fitsAlone(std::uint32_t set) const;
  // Whether it can stand with what is chosen.
  bool fits(std::uint32_t set) const { return in_the_way_[set] == 0 && exceeded(set) == no_resource; }
  std::uint32_t inTheWay(std::uint32_t set) const { return in_the_way_[set]; }  // chosen sets in conflict
  std::span<const std::uint32_t> conflictsOf(std::uint32_t set) const;
  // Calls visit(other) for each chosen set in conflict with it; the shorter way round.
  template <class Visit>
  void forEachInTheWay(std::uint32_t set, const Visit& visit) const {
    std::uint32_t left = in_the_way_[set];
    if (left == 1) {
      visit(blockers_[set]);
      return;
    }
    const std::span<const std::uint32_t> conflicts = conflictsOf(set);
    constexpr std::size_t steps_of_a_search = 16;
    const bool by_conflicts = chosen().size() * steps_of_a_search > conflicts.size();
    const std::span<const std::uint32_t> some = by_conflicts ? conflicts : std::span(chosen());
    for (auto other = some.begin(); left > 0 && other != some.end(); ++other) {
      const bool is_one =
          by_conflicts ? isChosen(*other) : std::binary_search(conflicts.begin(), conflicts.end(), *other);
      if (!is_one) continue;
      visit(*other);
      --left;
    }
  }
  // The first resource of which too little would be left for it.
  static constexpr std::uint32_t no_resource = 0xffffffff;
  std::uint32_t exceeded(std::uint32_t set) const;
  // The chosen sets that use some of it, in no particular order.
  const std::vector<std::uint32_t>& usersOf(std::uint32_t resource) const { return users_.of(resource); }

  void add(std::uint32_t set);     // one not chosen
  void remove(std::uint32_t set);  // one chosen
  // An uncovered element weighs more by its value.
  void raiseWeight(std::uint32_t element);

 private:
  void use(std::uint32_t set, double sign);
  void changeScores(std::uint32_t element, std::uint32_t but, std::int64_t by);

  const CoverProblem& problem_;
  Lists elements_of_;
  Lists sets_of_;
  std::vector<std::int64_t> values_;   // whole shares of the greatest
  std::vector<std::int64_t> weights_;  // of elements, as the search goes
  std::vector<std::int64_t> costs_;    // the sets' weights in binary steps
  std::vector<std::int64_t> scores_;
  std::vector<std::uint32_t> times_covered_;
  std::vector<std::uint32_t> coverers_;  // exclusive or of the chosen sets that cover it: the one, if one
  std::vector<std::uint32_t> in_the_way_;
  std::vector<std::uint32_t> blockers_;  // exclusive or of the chosen sets in conflict with it
  std::vector<double> used_;
  ResourceUsers users_;
  IndexPool chosen_;
  IndexPool uncovered_;
  std::int64_t value_left_ = 0;
  std::int64_t cost_ = 0;
  std::uint64_t changes_ = 0;
};

}  // namespace petalproof::cover
