#include "engine/cover/internal/cover_state.h"

#include <algorithm>
#include <cmath>

namespace petalproof::cover {
namespace {

// Stock is given in pieces and sheets; sums of thirds and tenths may be off by this much.
constexpr double resource_slack = 1e-9;

// Whole numbers keep the scores exact whatever the order of adding. Equal values are 1 each.
std::vector<std::int64_t> wholeValues(const CoverProblem& problem) {
  constexpr double steps = 1000;  // of the greatest value: fine enough to choose by
  std::vector<std::int64_t> values(problem.elements, 1);
  if (problem.value.empty()) return values;
  const auto [least, greatest] = std::minmax_element(problem.value.begin(), problem.value.end());
  if (*least == *greatest) return values;
  for (std::uint32_t i = 0; i < problem.elements; ++i)
    values[i] = std::max<std::int64_t>(1, std::llround(steps * problem.value[i] / *greatest));
  return values;
}

// Scaled by a power of two, so that whole weights stay exact.
std::vector<std::int64_t> wholeCosts(const CoverProblem& problem) {
  constexpr int greatest_bits = 39;  // leaves room for sums in 63 bits
  double greatest = 1e-300;          // above 0, which has no logarithm
  for (const CoverSet& set : problem.sets) greatest = std::max(greatest, set.weight);
  const double scale = std::ldexp(1, greatest_bits - std::ilogb(greatest));
  std::vector<std::int64_t> costs;
  costs.reserve(problem.sets.size());
  for (const CoverSet& set : problem.sets)
    costs.push_back(std::max<std::int64_t>(1, std::llround(set.weight * scale)));
  return costs;
}

Lists neededElements(const CoverProblem& problem, const std::vector<char>& needed) {
  Lists lists;
  for (const CoverSet& set : problem.sets) {
    for (const std::uint32_t element : set.covers)
      if (needed[element] != 0) lists.items.push_back(element);
    lists.close();
  }
  return lists;
}

}  // namespace

CoverState::CoverState(const CoverProblem& problem, const std::vector<char>& needed)
    : problem_(problem),
      elements_of_(neededElements(problem, needed)),
      sets_of_(elements_of_.turnedRound(problem.elements)),
      values_(wholeValues(problem)),
      weights_(values_),
      costs_(wholeCosts(problem)),
      scores_(problem.sets.size(), 0),
      times_covered_(problem.elements, 0),
      coverers_(problem.elements, 0),
      in_the_way_(problem.sets.size(), 0),
      blockers_(problem.sets.size(), 0),
      used_(problem.limits.size(), 0),
      users_(problem),
      chosen_(static_cast<std::uint32_t>(problem.sets.size())),
      uncovered_(problem.elements) {
  for (std::uint32_t element = 0; element < problem.elements; ++element) {
    if (needed[element] == 0) continue;
    uncovered_.take(element);
    value_left_ += values_[element];
    for (const std::uint32_t set : sets_of_[element]) scores_[set] += weights_[element];
  }
}

bool CoverState::fitsAlone(std::uint32_t set) const {
  const auto& uses = problem_.sets[set].uses;
  return std::all_of(uses.begin(), uses.end(), [&](const auto& use) {
    return use.second <= problem_.limits[use.first] + resource_slack;
  });
}

std::span<const std::uint32_t> CoverState::conflictsOf(std::uint32_t set) const {
  if (problem_.conflicts.empty()) return {};
  return problem_.conflicts[set];
}

std::uint32_t CoverState::exceeded(std::uint32_t set) const {
  for (const auto& [resource, amount] : problem_.sets[set].uses)
    if (used_[resource] + amount > problem_.limits[resource] + resource_slack) return resource;
  return no_resource;
}

void CoverState::use(std::uint32_t set, double sign) {
  for (const auto& [resource, amount] : problem_.sets[set].uses) used_[resource] += sign * amount;
}

void CoverState::changeScores(std::uint32_t element, std::uint32_t but, std::int64_t by) {
  for (const std::uint32_t set : sets_of_[element])
    if (set != but) scores_[set] += by;
  changes_ += sets_of_[element].size();
}

// The set's own score stays: it would lose by its removal what it gained by its addition.
void CoverState::add(std::uint32_t set) {
  chosen_.take(set);
  cost_ += costs_[set];
  use(set, 1);
  users_.add(set);
  for (const std::uint32_t other : conflictsOf(set)) {
    ++in_the_way_[other];
    blockers_[other] ^= set;
  }
  for (const std::uint32_t element : elements_of_[set]) {
    const std::uint32_t before = times_covered_[element]++;
    if (before == 0) {
      uncovered_.give(element);
      value_left_ -= values_[element];
      changeScores(element, set, -weights_[element]);
    } else if (before == 1) {
      scores_[coverers_[element]] -= weights_[element];
    }
    coverers_[element] ^= set;
  }
}

void CoverState::remove(std::uint32_t set) {
  chosen_.give(set);
  cost_ -= costs_[set];
  use(set, -1);
  users_.remove(set);
  for (const std::uint32_t other : conflictsOf(set)) {
    --in_the_way_[other];
    blockers_[other] ^= set;
  }
  for (const std::uint32_t element : elements_of_[set]) {
    const std::uint32_t left = --times_covered_[element];
    coverers_[element] ^= set;
    if (left == 0) {
      uncovered_.take(element);
      value_left_ += values_[element];
      changeScores(element, set, weights_[element]);
    } else if (left == 1) {
      scores_[coverers_[element]] += weights_[element];
    }
  }
}

void CoverState::raiseWeight(std::uint32_t element) {
  weights_[element] += values_[element];
  for (const std::uint32_t set : sets_of_[element]) scores_[set] += values_[element];
  changes_ += sets_of_[element].size();
}

}  // namespace petalproof::cover
