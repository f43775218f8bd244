#pragma once
// The search for few fillers that hide given pairs: candidates in place and turn, a cover of them, and again
// with new candidates where the cover shows that they would help.

#include "engine/filler/cover.h"
#include "engine/filler/internal/candidates.h"
#include "engine/filler/internal/scan.h"

#include <cstdint>
#include <functional>
#include <map>
#include <tuple>
#include <vector>

namespace petalproof {

struct SearchTask {
  const Plan& plan;  // with the fillers that stay
  const Scene& scene;
  const FillerMaker& maker;
  const Sites& sites;
  std::uint64_t seed = 1;
  std::function<void(double)> progress;  // the share done; may be empty
  std::function<bool()> cancelled;       // may be empty
};

// What is in stock of each kind of the maker's, less the fillers that stay; -1: any number.
std::vector<int> stockLeft(const Plan& plan, const FillerMaker& maker);

// Keeps its candidates from one call to the next, so that a search can go on with more pairs.
class FillerSearch {
 public:
  explicit FillerSearch(const SearchTask& task);

  // Fillers that hide every pair, but for those that none can; call within Workers::run.
  // From the third call on it keeps the last answer and only adds to it.
  std::vector<Candidate> cover(const MustHide& all);
  // Pairs that the last answer leaves bare.
  const std::vector<Pair>& uncovered() const { return uncovered_; }
  // Where those are.
  std::vector<glm::dvec2> givenUp() const;

 private:
  using Key = std::tuple<std::size_t, double, double, int>;

  void propose(const std::vector<Proposal>& proposals);
  void addInitial(const MustHide& all);
  void addPriced(const MustHide& all);
  void addNear();
  void addLattices(const MustHide& all);
  void addFor();
  std::uint64_t someMoves() const;
  bool fitsBesideChosen(std::size_t candidate) const;
  void repair(const MustHide& all);
  glm::dvec2 placeOf(const MustHide& all, const Pair& pair) const {
    return pair.on_grid ? grid_.at(pair.index) : all.eyes[pair.eye].others[pair.index];
  }
  void settle(const MustHide& all, std::uint64_t moves, int most);
  bool extendPairs(const MustHide& all, const std::vector<Pair>& left);
  std::vector<Pair> leftBare(const MustHide& all) const;
  void extendCovers(const MustHide& all);
  void solve(std::uint64_t moves);
  CoverProblem problem() const;
  std::vector<std::vector<std::uint32_t>> conflicts() const;
  bool clash(const Candidate& a, const Candidate& b) const;
  bool stop() const { return task_.cancelled && task_.cancelled(); }

  SearchTask task_;
  const PlaceGrid& grid_;
  int block_places_;  // a block of so many places each way is looked at by one of them
  PairList pairs_;
  std::vector<Candidate> candidates_;
  std::vector<std::vector<std::uint32_t>> covers_;  // as candidates_: numbers of pairs
  std::vector<std::size_t> covers_known_;           // up to which pair
  std::map<Key, std::uint32_t> known_;
  std::vector<std::uint32_t> chosen_;
  std::vector<std::vector<std::uint32_t>> lattices_;  // starts worth trying
  std::vector<std::uint32_t> bare_;                   // pairs looked at that the choice leaves bare
  std::vector<Pair> uncovered_;
  int calls_ = 0;
  double widest_ = 0;                        // places that the best site hides, of each eye
  std::set<std::pair<int, int>> looked_at_;  // blocks around which hiders were looked for
  std::vector<Eye> eyes_;                    // of the call
};

}  // namespace petalproof
