#pragma once
// The chosen sets of a cover problem, with every set's score, the conflicts and the resources in use.
// CoverSearch adds and removes sets; the state keeps the numbers up to date.

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
  // Starts with no set chosen. Only elements marked in `needed` count. Refers to `problem`, which must
  // outlive the state.
  CoverState(const CoverProblem& problem, const std::vector<char>& needed);

  const std::vector<std::uint32_t>& chosen() const { return chosen_.members(); }
  bool isChosen(std::uint32_t set) const { return chosen_.holds(set); }
  const std::vector<std::uint32_t>& uncovered() const { return uncovered_.members(); }
  std::int64_t valueLeft() const { return value_left_; }
  std::int64_t cost() const { return cost_; }
  // How many scores changed so far: a measure of the time spent.
  std::uint64_t changes() const { return changes_; }

  // Of a chosen set: the weight of the elements that only it covers. Of another set: the weight of the
  // elements that it would newly cover.
  std::int64_t score(std::uint32_t set) const { return scores_[set]; }
  double scorePerCost(std::uint32_t set) const {
    return static_cast<double>(scores_[set]) / static_cast<double>(costs_[set]);
  }
  std::int64_t costOf(std::uint32_t set) const { return costs_[set]; }
  std::span<const std::uint32_t> setsOf(std::uint32_t element) const { return sets_of_[element]; }
  std::span<const std::uint32_t> elementsOf(std::uint32_t set) const { return elements_of_[set]; }

  // Whether the set keeps all limits alone.
  bool fitsAlone(std::uint32_t set) const;
  // Whether the set conflicts with no chosen set and exceeds no limit beside them.
  bool fits(std::uint32_t set) const { return in_the_way_[set] == 0 && exceeded(set) == no_resource; }
  std::uint32_t inTheWay(std::uint32_t set) const { return in_the_way_[set]; }  // chosen sets in conflict
  std::span<const std::uint32_t> conflictsOf(std::uint32_t set) const;
  // Calls visit(other) for each chosen set in conflict with `set`: searches the chosen sets or the conflicts,
  // whichever is quicker.
  template <class Visit>
  void forEachInTheWay(std::uint32_t set, const Visit& visit) const {
    std::uint32_t left = in_the_way_[set];
    if (left == 1) {
      visit(blockers_[set]);
      return;
    }
    const std::span<const std::uint32_t> conflicts = conflictsOf(set);
    constexpr std::size_t steps_of_a_search = 16;  // about what a binary search costs
    const bool by_conflicts = chosen().size() * steps_of_a_search > conflicts.size();
    const std::span<const std::uint32_t> searched = by_conflicts ? conflicts : std::span(chosen());
    for (auto other = searched.begin(); left > 0 && other != searched.end(); ++other) {
      const bool in_conflict =
          by_conflicts ? isChosen(*other) : std::binary_search(conflicts.begin(), conflicts.end(), *other);
      if (!in_conflict) continue;
      visit(*other);
      --left;
    }
  }
  // The first resource whose limit the set would exceed beside the chosen sets.
  static constexpr std::uint32_t no_resource = 0xffffffff;
  std::uint32_t exceeded(std::uint32_t set) const;
  // The chosen sets that use the resource, in no particular order.
  const std::vector<std::uint32_t>& usersOf(std::uint32_t resource) const { return users_.of(resource); }

  void add(std::uint32_t set);     // `set` isn't chosen
  void remove(std::uint32_t set);  // `set` is chosen
  // Adds an uncovered element's value to its weight.
  void raiseWeight(std::uint32_t element);

 private:
  void use(std::uint32_t set, double sign);
  void changeScores(std::uint32_t element, std::uint32_t but, std::int64_t by);

  const CoverProblem& problem_;
  Lists elements_of_;
  Lists sets_of_;
  std::vector<std::int64_t> values_;   // of elements, in whole steps
  std::vector<std::int64_t> weights_;  // of elements; the search raises them
  std::vector<std::int64_t> costs_;    // the sets' weights in binary steps
  std::vector<std::int64_t> scores_;
  std::vector<std::uint32_t> times_covered_;
  std::vector<std::uint32_t>
      coverers_;  // exclusive or of the chosen sets that cover it: their index if it is one set
  std::vector<std::uint32_t> in_the_way_;
  std::vector<std::uint32_t> blockers_;  // likewise of the chosen sets in conflict with a set
  std::vector<double> used_;
  ResourceUsers users_;
  IndexPool chosen_;
  IndexPool uncovered_;
  std::int64_t value_left_ = 0;
  std::int64_t cost_ = 0;
  std::uint64_t changes_ = 0;
};

}  // namespace petalproof::cover
