#pragma once
// The search for few fillers that hide given pairs of a place and an eye: it finds candidates, chooses a
// cover from them, and adds candidates where the cover shows that they would help. ProvedCover calls it.

#include "engine/candidates/candidate_pool.h"
#include "engine/candidates/must_hide.h"
#include "engine/candidates/scan.h"
#include "engine/candidates/search_task.h"
#include "engine/cover/cover.h"
#include "engine/fill/internal/filler_choice.h"

#include <cstdint>
#include <set>
#include <utility>
#include <vector>

namespace petalproof::fill {

// Keeps its candidates from one call to the next, so that a search can go on with more pairs.
class FillerSearch {
 public:
  explicit FillerSearch(const candidates::SearchTask& task);

  // Fillers that hide every pair that any candidate can hide. The first call searches. Later calls keep the
  // last answer, add fillers to it and remove idle ones; `improve` also looks for fewer near it, `search`
  // searches anew.
  enum class Again { add, improve, search };
  std::vector<candidates::Candidate> cover(const candidates::MustHide& must_hide, Again again = Again::add);
  // Adds fillers that later answers may use.
  void suggest(const std::vector<candidates::Proposal>& proposals) { choice_.add(proposals); }
  // Removes the places that the last answer leaves bare from the eyes of `must_hide` from `first_eye` on, so
  // that later answers need not try again.
  void giveUpBare(candidates::MustHide& must_hide, std::size_t first_eye) {
    choice_.giveUpBare(must_hide, first_eye);
  }
  // For each kind about how many fillers more would hide what the last answer leaves bare, if the stock had
  // no end.
  std::vector<int> wantedBeyondStock() const;
  // The places that the last answer leaves bare.
  std::vector<glm::dvec2> givenUp() const;
  // The candidates that the last answer was chosen from, and the numbers of the chosen ones.
  const candidates::CandidatePool& candidates() const { return choice_.pool(); }
  const std::vector<std::uint32_t>& chosen() const { return choice_.chosen(); }

 private:
  void addFirstCandidates(const candidates::MustHide& must_hide);
  void search(const candidates::MustHide& must_hide);
  void addLattices(const candidates::MustHide& must_hide, double widest);
  void addForHopeless();
  std::uint64_t usualMoves() const;
  void settle(const candidates::MustHide& must_hide, std::uint64_t moves, int most);
  bool extendPairs(const candidates::MustHide& must_hide);
  cover::CoverProblem problem() const;
  void solve(std::uint64_t moves);
  void preferWholeLattice(const candidates::MustHide& must_hide);
  bool coversMost(const std::vector<std::uint32_t>& candidates) const;
  void improve(const candidates::MustHide& must_hide);

  candidates::SearchTask task_;
  FillerChoice choice_;                                     // refers to task_
  std::vector<std::vector<std::uint32_t>> lattices_;        // starts to be tried once
  std::vector<std::vector<std::uint32_t>> whole_lattices_;  // the same, kept
  std::vector<std::uint32_t> bare_;                         // pairs looked at that the last cover leaves bare
  bool begun_ = false;
  std::set<std::pair<int, int>> looked_at_;  // blocks that addForHopeless() has looked around
};

}  // namespace petalproof::fill
