#pragma once
// Weights of items such that no group weighs more than 1: the dual of covering the items by groups, so that
// no cover does with fewer groups than all items weigh. (V. Chvatal, "Linear Programming", 1983, chapter 5.)

#include <cstdint>
#include <functional>
#include <vector>

namespace petalproof::cover {

struct PackingProblem {
  std::uint32_t items = 0;
  std::vector<std::vector<std::uint32_t>> groups;  // items of each, each once
};

// As heavy together as any, to CLP's tolerance of about 1e-7; each at least 0, no group above 1 by more than
// the rounding of doubles. `start`: weights that are about right, or empty: only the time depends on them. An
// item in no group weighs 0. The same on any machine and any number of threads. `cancelled`: asked now and
// then; true: the heaviest found so far.
std::vector<double> heaviestPacking(const PackingProblem& problem, std::vector<double> start = {},
                                    const std::function<bool()>& cancelled = {});

// Weights that fit, made of others: lighter where a group is too heavy, heavier where all leave room.
std::vector<double> fitted(const PackingProblem& problem, std::vector<double> weights);

// What all items weigh.
double weightOf(const std::vector<double>& weights);

// What each group weighs.
std::vector<double> loadsOf(const PackingProblem& problem, const std::vector<double>& weights);

// How many groups any cover takes, by weights that fit: a group lies in one connected part of the items, so
// each part takes as many as it weighs, rounded up.
int fewestGroups(const PackingProblem& problem, const std::vector<double>& weights);

}  // namespace petalproof::cover
