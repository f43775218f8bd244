#pragma once
// Chooses fillers that hide what simulated builds show: keeps the candidates for them and a choice, which it
// can make anew, extend, change and thin out. HandsSearch drives it; it knows nothing of how builds are
// looked at.

#include "engine/candidates/candidate_pool.h"
#include "engine/candidates/candidates.h"
#include "engine/candidates/leeway.h"
#include "engine/candidates/must_hide.h"
#include "engine/candidates/search_task.h"
#include "engine/hands/internal/hand_demands.h"
#include "engine/hands/internal/hands_hopeless.h"

#include <cstdint>
#include <span>
#include <utility>
#include <vector>

namespace petalproof::hands {

enum class Look { wide, close };  // how finely a scan looks for candidates

class HandsCover {
 public:
  using Numbers = std::vector<std::uint32_t>;  // of candidates, or of demands

  // Refers to `task`, which must outlive it.
  explicit HandsCover(const candidates::SearchTask& task);

  const HandDemands& demands() const { return demands_; }
  // Adds demands for what the plan itself shows, a place for every few of the grid.
  void addPlanned(const candidates::MustHide& shown);
  // Notes that so many builds were looked at with these fillers hung; the gaps that they show follow by
  // addGaps. So the choice knows how often a place shows: only looks without a filler in front of it count.
  void lookedAt(int builds, const std::vector<candidates::Candidate>& hung);
  // Adds demands for the gaps that a shot sees of a build of the last look; `gaps_mm`: the places of each gap
  // that must be hidden. `hung`: the same build with its fillers hung several times, each time a little
  // differently. A candidate must work in every hanging, otherwise the search overfits to the sampled builds.
  void addGaps(const glm::dvec3& eye, std::uint32_t build, std::span<const scene::HandBuild* const> hung,
               std::span<const std::vector<glm::dvec2>> gaps_mm);

  // Chooses these fillers to begin with; chooseGiven() goes back to them.
  void give(const std::vector<candidates::Candidate>& fillers);
  void chooseGiven() { chosen_ = given_; }
  const Numbers& chosen() const { return chosen_; }
  void choose(Numbers candidates) { chosen_ = std::move(candidates); }
  std::vector<candidates::Candidate> chosenFillers() const;

  // Scan for new candidates: for demands from this number on, for demands that the choice leaves bare, for
  // demands that no candidate hides.
  void proposeFrom(std::uint32_t demand, Look look);
  void proposeForBare(Look look) { propose(bare(), look); }
  void proposeForHopeless(Look look) { propose(hopeless(), look); }
  // Add candidates from close looks around such demands (hands_hopeless.h).
  void lookCloselyAtBare() { lookCloselyAt(bare()); }
  void lookCloselyAtHopeless() { lookCloselyAt(hopeless()); }
  // Adds candidates in the middle of what each chosen filler alone hides in all builds: there they may be off
  // most.
  void proposeCentred();

  // Covers all demands with as few fillers as a short search from the last choice finds, then removes fillers
  // that fewer than `least` gaps of different builds need.
  void cover(double least);
  // Adds fillers, the best first, for demands from number `from` on, each for at least `least` gaps.
  void addBest(double least, std::uint32_t from);
  // Covers anew, so that other fillers may take the place of those in the way of bare demands.
  void exchangeForBare();
  // Swaps a candidate in for the few fillers that conflict with it, where that leaves less bare, again and
  // again. All other fillers stay.
  void swapForBare();
  // Removes the fillers that fewest walls need, as long as no more than `most_share` of all walls need any
  // removed filler, by what the looks have shown.
  void dropForFewWalls(double most_share);

  // Demands that the choice leaves bare; demands that no candidate hides.
  Numbers bare() const;
  Numbers hopeless() const;
  // How many builds have a hopeless demand from number `from` on (hands_hopeless.h).
  int buildsWithHopeless(std::uint32_t from) const {
    return hands::buildsWithHopeless(demands_, hopeless(), from);
  }
  // For each kind how many fillers more would hide something if the stock had no end.
  std::vector<int> wantedBeyondStock() const;

 private:
  void propose(const Numbers& demands, Look look);
  void lookCloselyAt(const Numbers& demands);
  using Shares = std::vector<double>;  // for each demand, the share of builds that show it
  Shares sharesOfWalls() const;
  bool swapIn(std::uint32_t k, double gain, const Shares& shares);
  void dropRarelyUsed(double least);
  void drop(std::size_t n, std::vector<std::uint32_t>& times);
  std::vector<std::uint32_t> timesHiddenBy(const Numbers& fillers) const;
  template <class Worth>
  double neededAlone(std::uint32_t k, const std::vector<std::uint32_t>& times, const Worth& worth) const;
  template <class Worth>
  double sumOverBuilds(std::uint32_t k, const Worth& worth) const;
  Numbers missing(candidates::StockRule stock, double least, std::uint32_t from) const;
  std::vector<char> hiddenByChosen() const;

  const candidates::SearchTask& task_;
  candidates::CandidatePool pool_;
  HandDemands demands_;
  std::vector<Numbers> covers_;              // demands, by candidate
  std::vector<std::uint32_t> covers_known_;  // by candidate: of how many demands
  Numbers given_;
  Numbers chosen_;
  CloseLooks close_looks_;
  struct Looked {
    int builds = 0;
    std::uint32_t from = 0;  // the first demand that the look has shown
    Numbers hung;
  };
  std::vector<Looked> looks_;
};

}  // namespace petalproof::hands
