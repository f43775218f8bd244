#pragma once
// Set cover, free of walls and blooms: chooses sets so that every element is in a chosen set. Sets have
// weights, share limited resources, and pairs of them may conflict. engine/fill and engine/hands call it with
// fillers as sets and bare places as elements.

#include <cstdint>
#include <stop_token>
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
  std::vector<double> value;  // of each element, above 0: counts where not all fit; empty: 1 each
  std::vector<CoverSet> sets;
  // For each set the sets that it conflicts with, ascending, each pair in both lists; empty: no conflicts.
  std::vector<std::vector<std::uint32_t>> conflicts;
  std::vector<double> limits;  // of each resource
};

struct CoverOptions {
  std::uint64_t seed = 1;
  std::uint64_t moves = 200'000;  // of the local search; each changes a set or two
  std::uint64_t changes = 0;      // limit on changes of sets' scores, which take the time; 0: none
  std::vector<std::uint32_t>
      start;  // sets to start from, a cover or part of it; sets that don't fit are skipped
  std::stop_token stop;
};

struct CoverResult {
  std::vector<std::uint32_t> chosen;     // ascending; within limits and without conflicts; each is needed
  std::vector<std::uint32_t> uncovered;  // ascending
};

// Finds sets that cover much value, then makes them light. By greedy choice (V. Chvatal, "A greedy
// heuristic for the set-covering problem", Mathematics of Operations Research 4, 1979), then local search
// with weights on what stays uncovered and with configuration checking (after C. Gao, X. Yao, T. Weise,
// J. Li, "An efficient local search heuristic with row weighting for the unicost set covering problem",
// European Journal of Operational Research 246, 2015; ours: sets' weights
// enter as ratios, and sets in conflict or over a limit are removed). Deterministic by seed.
CoverResult coverSets(const CoverProblem& problem, const CoverOptions& options = {});

}  // namespace petalproof::cover
