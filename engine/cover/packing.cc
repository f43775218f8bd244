#include "engine/cover/packing.h"

#include "engine/base/threads.h"
#include "engine/cover/internal/lists.h"

#include <algorithm>
#include <cstddef>
#include <numeric>
#include <span>

namespace petalproof::cover {
namespace {

Lists itemsOf(const PackingProblem& problem) {
  Lists lists;
  for (const auto& group : problem.groups) {
    lists.items.insert(lists.items.end(), group.begin(), group.end());
    lists.close();
  }
  return lists;
}

// Divided by the heaviest group that an item is in: then no group weighs more than 1.
void makeFit(const Lists& items_of, const Lists& groups_of, std::vector<double>& weights) {
  std::vector<double> most(weights.size(), 0);
  std::vector<double> loads(items_of.count(), 0);
  for (std::uint32_t g = 0; g < items_of.count(); ++g) {
    for (const std::uint32_t item : items_of[g]) loads[g] += weights[item];
    for (const std::uint32_t item : items_of[g]) most[item] = std::max(most[item], loads[g]);
  }
  for (std::uint32_t item = 0; item < weights.size(); ++item) {
    if (groups_of[item].empty()) weights[item] = 0;
    if (most[item] > 1) weights[item] /= most[item];
  }
}

void fillUp(const Lists& items_of, const Lists& groups_of, std::vector<double>& weights) {
  std::vector<double> room(items_of.count(), 1);
  for (std::uint32_t g = 0; g < items_of.count(); ++g)
    for (const std::uint32_t item : items_of[g]) room[g] -= weights[item];
  for (std::uint32_t item = 0; item < weights.size(); ++item) {
    if (groups_of[item].empty()) continue;
    double least = 1;
    for (const std::uint32_t g : groups_of[item]) least = std::min(least, room[g]);
    if (least <= 0) continue;
    weights[item] += least;
    for (const std::uint32_t g : groups_of[item]) room[g] -= least;
  }
}

void fit(const Lists& items_of, const Lists& groups_of, std::vector<double>& weights) {
  makeFit(items_of, groups_of, weights);
  fillUp(items_of, groups_of, weights);
}

// One step of a group's price, up where it is too heavy.
double priceAfter(double price, std::span<const std::uint32_t> items, const std::vector<double>& weights) {
  double load = 0;
  for (const std::uint32_t item : items) load += weights[item];
  const auto count = static_cast<double>(std::max<std::size_t>(1, items.size()));
  return std::max(0.0, price + (load - 1) / count);
}

// One step of an item's weight, up where its groups cost less than it is worth.
double weightAfter(double weight, std::span<const std::uint32_t> groups, const std::vector<double>& prices) {
  if (groups.empty()) return weight;
  double price = 0;
  for (const std::uint32_t g : groups) price += prices[g];
  return std::max(0.0, weight + (1 - price) / static_cast<double>(groups.size()));
}

}  // namespace

double weightOf(const std::vector<double>& weights) {
  return std::accumulate(weights.begin(), weights.end(), 0.0);
}

std::vector<double> fitted(const PackingProblem& problem, std::vector<double> weights) {
  const Lists items_of = itemsOf(problem);
  const Lists groups_of = items_of.turnedRound(problem.items);
  weights.resize(problem.items, 0);
  fit(items_of, groups_of, weights);
  return weights;
}

std::vector<double> loadsOf(const PackingProblem& problem, const std::vector<double>& weights) {
  std::vector<double> loads;
  for (const auto& group : problem.groups) {
    double load = 0;
    for (const std::uint32_t item : group) load += weights[item];
    loads.push_back(load);
  }
  return loads;
}

std::vector<double> heaviestPacking(const PackingProblem& problem, std::vector<double> start, int steps) {
  constexpr int steps_between_looks = 50;
  const Lists items_of = itemsOf(problem);
  const Lists groups_of = items_of.turnedRound(problem.items);
  std::vector<double> weights = std::move(start);
  weights.resize(problem.items, 0);
  fit(items_of, groups_of, weights);
  std::vector<double> best = weights;
  std::vector<double> ahead = weights;
  std::vector<double> prices(problem.groups.size(), 0);
  for (int step = 1; step <= steps; ++step) {
    forEach(items_of.count(), [&](std::size_t g) {
      prices[g] = priceAfter(prices[g], items_of[static_cast<std::uint32_t>(g)], ahead);
    });
    forEach(weights.size(), [&](std::size_t item) {
      const double before = weights[item];
      weights[item] = weightAfter(before, groups_of[static_cast<std::uint32_t>(item)], prices);
      ahead[item] = 2 * weights[item] - before;
    });
    if (step % steps_between_looks != 0 && step != steps) continue;
    std::vector<double> fitting = weights;
    fit(items_of, groups_of, fitting);
    if (weightOf(fitting) > weightOf(best)) best = std::move(fitting);
  }
  return best;
}

}  // namespace petalproof::cover
