#pragma once
// Which fillers hide what simulated builds show: candidates for it, and a choice among them that is made
// anew, added to, changed and thinned. Knows nothing of how builds are looked at.

#include "engine/candidates/candidate_pool.h"
#include "engine/candidates/candidates.h"
#include "engine/candidates/leeway.h"
#include "engine/candidates/must_hide.h"
#include "engine/candidates/search_task.h"
#include "engine/hands/internal/hand_demands.h"

#include <cstdint>
#include <map>
#include <optional>
#include <span>
#include <utility>
#include <vector>

namespace petalproof::hands {

enum class Look { wide, close };

// All but what only reads must be called within Workers::run.
class HandsCover {
 public:
  using Numbers = std::vector<std::uint32_t>;  // of candidates, or of demands
  // What a close look finds: how many of the places asked for it hides, and how far from their middle it is.
  struct Tried {
    int hidden = 0;
    double aside_mm = 0;
    candidates::Candidate filler;
  };

  // Refers to `task`, which must outlive it.
  explicit HandsCover(const candidates::SearchTask& task);

  const HandDemands& demands() const { return demands_; }
  // What the plan itself shows: one place of each few of the grid. May stand outside Workers::run.
  void addPlanned(const candidates::MustHide& shown);
  // So many builds were looked at with these hung; what they show follows by addGaps. Tells how often a place
  // of theirs shows at all: what no look could see, because something hung there, is not known to be seldom.
  void lookedAt(int builds, const std::vector<candidates::Candidate>& hung);
  // Gaps of one build of the last look that one shot sees, by the places that must be hidden of each. `hung`:
  // the build with its fillers hung several times. A filler that is tried comes out otherwise at each place.
  // Of many places one would be found that is lucky in all builds looked at, so each has to hide what shows
  // however often the wall's fillers are hung.
  void addGaps(const glm::dvec3& eye, std::uint32_t build, std::span<const scene::HandBuild* const> hung,
               std::span<const std::vector<glm::dvec2>> gaps_mm);

  // The choice begins with these, and goes back to them by `chooseGiven`.
  void give(const std::vector<candidates::Candidate>& fillers);
  void chooseGiven() { chosen_ = given_; }
  const Numbers& chosen() const { return chosen_; }
  void choose(Numbers candidates) { chosen_ = std::move(candidates); }
  std::vector<candidates::Candidate> chosenFillers() const;

  // New candidates: for demands from this number on, for those that the choice leaves bare, for those that no
  // candidate hides.
  void proposeFrom(std::uint32_t demand, Look look);
  void proposeForBare(Look look) { propose(bare(), look); }
  void proposeForHopeless(Look look) { propose(hopeless(), look); }
  // Sites all around them that break no rule. A scan takes what would hide most, and may pass by the few
  // sites that hide a place beside larger blooms.
  void lookCloselyAtBare() { lookCloselyAt(bare()); }
  void lookCloselyAtHopeless() { lookCloselyAt(hopeless()); }
  // In the middle of all that only one filler hides, in whatever build: there it has most room to be off.
  void proposeCentred();

  // All by as few as a short search from the last choice finds; without those that fewer than `least` gaps of
  // different builds need.
  void cover(double least);
  // More of them, the best first, for demands from number `from` on, each for at least so many gaps.
  void addBest(double least, std::uint32_t from);
  // Others in place of those that stand in the way of what is bare.
  void exchangeForBare();
  // One filler in place of the few that stand in its way, where that leaves less bare. All others stay.
  void swapForBare();
  // Without those that fewest walls need, as long as all of them together are needed in no more than this
  // share of walls, by what the looks have shown.
  void dropForFewWalls(double most_share);

  // Demands that the choice leaves bare; that no candidate hides.
  Numbers bare() const;
  Numbers hopeless() const;
  // Builds with a place, of demands from number `from` on, that no candidate hides however often it is hung.
  int buildsWithHopeless(std::uint32_t from) const;
  // A demand where most of what no candidate hides comes together.
  std::optional<std::uint32_t> worstHopeless() const;
  // By kind of the maker's: how many more would hide something if the stock had no end.
  std::vector<int> wantedBeyondStock() const;

 private:
  using Block = std::pair<int, int>;  // of the board plane
  using Blocks = std::map<Block, Numbers>;
  void propose(const Numbers& demands, Look look);
  void lookCloselyAt(const Numbers& demands);
  std::vector<candidates::Proposal> closeLook(const Numbers& demands) const;
  void tryAround(glm::dvec2 middle, const Numbers& asked, std::size_t kind, double pitch_mm,
                 std::vector<Tried>& tried) const;
  Blocks blocksOf(const Numbers& demands) const;
  using Shares = std::vector<double>;  // by demand: 1 of so many builds that were looked at with it bare
  Shares sharesOfWalls() const;
  bool swapIn(std::uint32_t k, double more, const Shares& shares);
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
  std::vector<std::uint32_t> covers_known_;  // up to which demand
  Numbers given_;
  Numbers chosen_;
  std::map<Block, int> looked_closely_;
  struct Looked {
    int builds = 0;
    std::uint32_t from = 0;  // the first demand that it has shown
    Numbers hung;
  };
  std::vector<Looked> looks_;
};

}  // namespace petalproof::hands
