#pragma once
// Weights of items such that no group weighs more than 1: the dual of covering the items by groups, so that
// no cover does with fewer groups than all items weigh.

#include <cstdint>
#include <vector>

namespace petalproof::cover {

struct PackingProblem {
  std::uint32_t items = 0;
  std::vector<std::vector<std::uint32_t>> groups;  // items of each
};

// As heavy together as it finds; each at least 0, no group above 1 by more than rounding. `start`: weights to
// go on from, or empty. By the primal-dual method of A. Chambolle, T. Pock, "A first-order primal-dual
// algorithm for convex problems with applications to imaging", Journal of Mathematical Imaging and Vision 40,
// 2011, with the steps of T. Pock, A. Chambolle, "Diagonal preconditioning for first order primal-dual
// algorithms in convex optimization", ICCV 2011; then made to fit, and filled up. An item in no group weighs
// 0.
std::vector<double> heaviestPacking(const PackingProblem& problem, std::vector<double> start, int steps);

// Weights that fit, made of others: lighter where a group is too heavy, heavier where all leave room.
std::vector<double> fitted(const PackingProblem& problem, std::vector<double> weights);

// What all items weigh.
double weightOf(const std::vector<double>& weights);

// What each group weighs.
std::vector<double> loadsOf(const PackingProblem& problem, const std::vector<double>& weights);

}  // namespace petalproof::cover
