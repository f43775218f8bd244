#pragma once
// The local search behind coverSets: starts from a greedy cover, then swaps sets to cover more elements or to
// lower the weight.

#include "engine/cover/internal/cover_state.h"
#include "engine/cover/random_steps.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace petalproof::cover {

class CoverSearch {
 public:
  // Chooses the sets of `start` that fit, then covers the uncovered elements greedily. Only elements marked
  // in `needed` count.
  CoverSearch(const CoverProblem& problem, const std::vector<char>& needed,
              const std::vector<std::uint32_t>& start, const CoverOptions& options);

  // Swaps sets until everything is covered, for at most `moves` moves. Returns the moves made.
  std::uint64_t coverMore(std::uint64_t moves);
  // Improves a complete cover: removes or swaps sets to lower its total weight, for at most `moves` moves.
  void lighten(std::uint64_t moves);

  // The best choice that the search met: least value uncovered, then least weight.
  const std::vector<std::uint32_t>& best() const { return best_; }
  bool coversAll() const { return best_value_left_ == 0; }

 private:
  struct Candidate {
    std::uint32_t set = 0;
    double gain = 0;  // score per weight, less the scores of the sets that it would put out
  };
  void coverGreedily();
  void removeIdle();
  void keepIfBest();
  bool ends(std::uint64_t move, std::uint64_t most_changes) const;
  void move();
  bool addFor(std::uint32_t element, bool within_best);
  std::optional<Candidate> bestFor(std::uint32_t element, bool within_best);
  std::optional<Candidate> randomFor(std::uint32_t element);
  double gainOf(std::uint32_t set);
  double leastMissedScore(std::uint32_t resource);
  bool betterThan(const Candidate& a, const Candidate& b) const;
  bool changedAround(std::uint32_t set) const;
  std::optional<std::uint32_t> leastMissed(std::uint32_t resource = CoverState::no_resource) const;
  void put(std::uint32_t set);
  void take(std::uint32_t set);
  void raiseUncovered();

  CoverState state_;
  const CoverOptions& options_;
  RandomSteps random_;
  std::vector<char> possible_;          // 1: the set fits alone
  std::vector<std::uint64_t> touched_;  // per element: when a set that covers it was last added or removed
  std::vector<std::uint64_t> changed_;  // per set: when it was last added or removed
  std::uint64_t now_ = 0;               // counts additions and removals
  std::uint32_t last_put_ = CoverState::no_resource;            // not removed again at once
  std::vector<std::pair<std::uint32_t, double>> least_missed_;  // cache by resource for bestFor()
  std::vector<std::uint32_t> best_;
  std::int64_t best_value_left_ = 0;
  std::int64_t best_cost_ = 0;
};

}  // namespace petalproof::cover
