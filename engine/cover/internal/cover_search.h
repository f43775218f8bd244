#pragma once
// The local search over covers.

#include "engine/cover/internal/cover_state.h"
#include "engine/cover/random_steps.h"

#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

namespace petalproof::cover {

class CoverSearch {
 public:
  // `start`: sets chosen first, those of them that can stand. What is uncovered then is covered greedily.
  CoverSearch(const CoverProblem& problem, const std::vector<char>& needed,
              const std::vector<std::uint32_t>& start, const CoverOptions& options);

  // Until everything is covered, or for so many moves. Returns the moves made.
  std::uint64_t coverMore(std::uint64_t moves);
  // Of one that covers everything: one as good that is lighter, for so many moves.
  void lighten(std::uint64_t moves);

  // The best of all that were met: by value left, then by weight.
  const std::vector<std::uint32_t>& best() const { return best_; }
  bool coversAll() const { return best_value_left_ == 0; }

 private:
  struct Candidate {
    std::uint32_t set = 0;
    double gain = 0;  // a unit of weight, less what is lost by putting out what is in the way
  };
  void coverGreedily();
  void removeIdle();
  void keepIfBest();
  bool ends(std::uint64_t move, std::uint64_t most_changes) const;
  void move();
  bool addFor(std::uint32_t element, bool within_best);
  std::optional<Candidate> bestFor(std::uint32_t element, bool within_best);
  std::optional<Candidate> anyFor(std::uint32_t element);
  double gainOf(std::uint32_t set);
  double leastMissedScore(std::uint32_t resource);
  bool betterThan(const Candidate& one, const Candidate& other) const;
  bool changedAround(std::uint32_t set) const;
  std::optional<std::uint32_t> leastMissed(std::uint32_t resource = CoverState::no_resource) const;
  void put(std::uint32_t set);
  void take(std::uint32_t set);
  void raiseSome();

  CoverState state_;
  const CoverOptions& options_;
  RandomSteps random_;
  std::vector<char> possible_;          // sets that fit alone
  std::vector<std::uint64_t> touched_;  // per element: when a set that covers it last came or went
  std::vector<std::uint64_t> changed_;  // per set: when it last came or went
  std::uint64_t now_ = 0;               // counts comings and goings
  std::uint32_t last_put_ = CoverState::no_resource;            // a set that isn't taken out again at once
  std::vector<std::pair<std::uint32_t, double>> least_missed_;  // by resource, of the choice under way
  std::vector<std::uint32_t> best_;
  std::int64_t best_value_left_ = 0;
  std::int64_t best_cost_ = 0;
};

}  // namespace petalproof::cover
