#pragma once
// The search for few fillers that hide given pairs: candidates in place and turn, a cover of them, and again
// with new candidates where the cover shows that they would help.

#include "engine/candidates/candidate_pool.h"
#include "engine/candidates/proposals.h"
#include "engine/candidates/search_task.h"
#include "engine/cover/cover.h"
#include "engine/fill/cover_task.h"
#include "engine/fill/internal/left_bare.h"

#include <cstdint>
#include <map>
#include <set>
#include <utility>
#include <vector>

namespace petalproof::fill {

// Keeps its candidates from one call to the next, so that a search can go on with more pairs.
class FillerSearch {
 public:
  explicit FillerSearch(const candidates::SearchTask& task);

  // Fillers that hide every pair, but for those that none can; call within Workers::run.
  // The first call searches; later ones keep the last answer, add to it and take away what has become idle,
  // then look for fewer near it, or search anew.
  enum class Again { add, improve, search };
  std::vector<candidates::Candidate> cover(const candidates::MustHide& all, Again again = Again::add);
  // Fillers that the next answer may use too. Call within Workers::run.
  void suggest(const std::vector<candidates::Proposal>& proposals) { pool_.add(proposals); }
  // Takes from the places of the last answer's eyes, from this one on, those that it leaves bare: later
  // answers need not try again. Call within Workers::run.
  void giveUpBare(candidates::MustHide& all, std::size_t first_eye);
  // How many more of each kind would hide what the last answer leaves, were there no end of stock: about the
  // fewest. Call within Workers::run.
  std::vector<int> wantedBeyondStock() const;
  // Where the last answer leaves a pair bare.
  std::vector<glm::dvec2> givenUp() const;
  // What the last answer was chosen from, and which of them it is.
  const candidates::CandidatePool& candidates() const { return pool_; }
  const std::vector<std::uint32_t>& chosen() const { return chosen_; }

 private:
  void addFirstCandidates(const candidates::MustHide& all);
  void search(const candidates::MustHide& all);
  void addLattices(const candidates::MustHide& all, double widest);
  void addFor();
  std::uint64_t someMoves() const;
  void settle(const candidates::MustHide& all, std::uint64_t moves, int most);
  bool extendPairs(const candidates::MustHide& all);
  void look(const candidates::MustHide& all, const std::vector<candidates::Pair>& pairs);
  cover::CoverProblem problem() const;
  void solve(std::uint64_t moves);
  void complete(const candidates::MustHide& all);
  void preferWholeLattice(const candidates::MustHide& all);
  bool coversMost(const std::vector<std::uint32_t>& sets) const;
  void improve(const candidates::MustHide& all);
  void shiftForFewer(const candidates::MustHide& all);
  bool exchange(const candidates::MustHide& all, const candidates::Exchange& one);
  bool shiftForBare(const candidates::MustHide& all);
  std::vector<std::uint32_t> nearestChosen(glm::dvec2 place, std::size_t most) const;
  bool put(const std::vector<std::uint32_t>& rest, const std::vector<candidates::Proposal>& in,
           std::vector<std::uint32_t>& numbers);
  std::vector<char> hiddenByChosen() const;
  bool canStand(const std::vector<std::uint32_t>& fresh, std::vector<std::uint32_t> rest) const;
  std::vector<std::uint32_t> missing() const;
  bool addMissing();
  bool stop() const { return task_.isCancelled(); }
  glm::dvec2 placeOf(const candidates::Pair& pair) const;

  candidates::SearchTask task_;
  const candidates::PlaceGrid& grid_;
  int block_places_;  // a block of so many places each way is looked at by one of them
  double cell_mm_;    // the same in mm
  candidates::PairList pairs_;
  candidates::CandidatePool pool_;
  LeftBare left_;
  std::vector<int> stock_;             // by kind; -1: any number
  std::vector<candidates::Eye> eyes_;  // of the call
  std::vector<std::uint32_t> chosen_;
  std::vector<std::vector<std::uint32_t>> lattices_;        // starts worth trying
  std::vector<std::vector<std::uint32_t>> whole_lattices_;  // the same, kept
  std::vector<std::uint32_t> bare_;                         // pairs looked at that the choice leaves bare
  std::vector<candidates::Pair> uncovered_;
  bool begun_ = false;
  std::set<std::pair<int, int>> looked_at_;         // blocks around which hiders were looked for
  std::map<std::pair<int, int>, int> shifted_for_;  // how often fillers were shifted for a block's sake
};

}  // namespace petalproof::fill
