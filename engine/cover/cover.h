#pragma once
// Set cover, free of walls and blooms: which sets to take so that every element is in one of them, when sets
// have weights, share what is in stock, and some can't stand side by side.

#include <cstdint>
#include <functional>
#include <utility>
#include <vector>

namespace petalproof::cover {

struct CoverSet {
  std::vector<std::uint32_t> covers;                   // elements, ascending, each once
  double weight = 1;                                   // above 0
  std::vector<std::pair<std::uint32_t, double>> uses;  // resource and how much of it, 0 or more
};

struct CoverProblem {
  std::uint32_t elements = 0;
  std::vector<double> value;  // of each element, above 0, for what can't all be covered; empty: 1 each
  std::vector<CoverSet> sets;
  // For each set those that can't stand with it, ascending, both ways round; empty: none anywhere.
  std::vector<std::vector<std::uint32_t>> conflicts;
  std::vector<double> limits;  // of each resource
};

struct CoverOptions {
  std::uint64_t seed = 1;
  std::uint64_t moves = 200'000;  // of the local search, each of one set or two
  std::uint64_t changes = 0;      // no more of what a set would gain or lose; 0: any number
  std::vector<std::uint32_t>
      start;                        // a cover to start from, whole or in part; sets that can't stand are left
  std::function<bool()> cancelled;  // asked now and then; true: the best found so far is the answer
};

struct CoverResult {
  std::vector<std::uint32_t> chosen;  // ascending; no two in conflict, within the limits, none of them idle
  std::vector<std::uint32_t> uncovered;  // ascending
};

// Covers as much value as it can, and that as lightly as it can. By greedy choice (V. Chvatal, "A greedy
// heuristic for the set-covering problem", Mathematics of Operations Research 4, 1979), then local search
// with weights on what stays uncovered and with configuration checking (after C. Gao, X. Yao, T. Weise,
// J. Li, "An efficient local search heuristic with row weighting for the unicost set covering problem",
// European Journal of Operational Research 246, 2015; weights of sets as ratios, limits and conflicts by
// putting out what is in the way, are ours). Deterministic by seed.
CoverResult coverSets(const CoverProblem& problem, const CoverOptions& options = {});

}  // namespace petalproof::cover
