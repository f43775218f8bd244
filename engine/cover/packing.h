#pragma once
// Weights of items such that no group weighs more than 1: the dual of covering the items by groups, so that
// no cover does with fewer groups than all items weigh. (V. Chvatal, "Linear Programming", 1983, chapter 5.)

#include <cstdint>
#include <stop_token>
#include <vector>

namespace petalproof::cover {

struct PackingProblem {
  std::uint32_t items = 0;
  std::vector<std::vector<std::uint32_t>> groups;  // items of each, each once
};

// The weights with the greatest sum, to CLP's tolerance of about 1e-7; each weight is at least 0, no group
// weighs more than 1 by more than the rounding of doubles. `start`: approximate weights, or empty: only the
// time depends on them. An item in no group weighs 0. The same for any number of threads.
std::vector<double> heaviestPacking(const PackingProblem& problem, std::vector<double> start = {},
                                    const std::stop_token& stop = {});

// Makes weights fit: lowers them where a group is too heavy, raises them where all groups leave room.
std::vector<double> fitted(const PackingProblem& problem, std::vector<double> weights);

// The sum of the weights.
double weightOf(const std::vector<double>& weights);

// The weight of each group: the sum over its items, as problem.groups.
std::vector<double> loadsOf(const PackingProblem& problem, const std::vector<double>& weights);

// How many groups any cover takes, by weights that fit: a group lies in one connected part of the items, so
// each part takes as many as it weighs, rounded up.
int fewestGroups(const PackingProblem& problem, const std::vector<double>& weights);

}  // namespace petalproof::cover
