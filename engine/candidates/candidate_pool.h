#pragma once
// The candidates that a search may choose from. The pool keeps what searches ask for again and again: the
// pairs that each candidate hides, its conflicts with other candidates, and its silhouette from each eye.

#include "engine/candidates/candidates.h"
#include "engine/candidates/scan.h"
#include "engine/candidates/search_task.h"

#include <cstdint>
#include <map>
#include <tuple>
#include <unordered_map>
#include <utility>
#include <vector>

namespace petalproof::candidates {

// Why two fillers can't hang beside each other.
enum class Clash { none, plates, innerHalf };
Clash clash(const SearchTask& task, const Candidate& a, const Candidate& b);

inline Proposal proposalOf(const Candidate& candidate) {
  return {candidate.kind, candidate.site.board_mm, candidate.turn_deg, 0};
}

class CandidatePool {
 public:
  explicit CandidatePool(const SearchTask& task);

  std::size_t size() const { return candidates_.size(); }
  const Candidate& operator[](std::size_t k) const { return candidates_[k]; }
  const scene::FillerKind& kindOf(std::size_t k) const { return task_.maker.kinds()[candidates_[k].kind]; }

  // Adds the proposals that are new and break no rule of their own, in order.
  void add(const std::vector<Proposal>& proposals);
  // The numbers of the proposals that were ever added; ascending, each once.
  std::vector<std::uint32_t> numbersOf(const std::vector<Proposal>& proposals) const;

  // The pairs that a candidate hides, ascending, as of the last call of findCovers.
  const std::vector<std::uint32_t>& covers(std::size_t k) const { return covers_[k]; }
  void findCovers(const PairList& pairs, const std::vector<Eye>& eyes);
  // How far from the candidate's axis the farthest of those pairs is, in mm on the board plane.
  double reach_mm(std::size_t k) const { return reach_mm_[k]; }
  const std::vector<std::vector<std::uint32_t>>& allCovers() const { return covers_; }

  // For each candidate the candidates that clash with it, ascending.
  const std::vector<std::vector<std::uint32_t>>& conflicts() const { return conflicts_; }

  // A candidate as an eye sees it; kept for the next call. Call for each eye from one thread at a time.
  struct Seen {
    Silhouette silhouette;
    PlaceBits hidden;
  };
  const Seen& seen(std::size_t k, const std::vector<Eye>& eyes, std::size_t eye);
  void readyFor(std::size_t eyes) { seen_.resize(std::max(eyes, seen_.size())); }

 private:
  using Key = std::tuple<std::size_t, double, double, int>;
  using Bin = std::pair<int, int>;
  Key keyOf(const Proposal& proposal, const Site& site) const;
  Bin binAt(glm::dvec2 board_mm) const;
  void findConflicts(std::size_t from);
  std::vector<std::uint32_t> nearPairs(const PairList& pairs, std::size_t from,
                                       const std::vector<Eye>& eyes) const;

  SearchTask task_;
  std::vector<Candidate> candidates_;
  std::vector<std::vector<std::uint32_t>> covers_;
  std::vector<double> reach_mm_;
  std::size_t candidates_known_ = 0;  // how many candidates' covers are known,
  std::size_t pairs_known_ = 0;       // of how many pairs
  std::vector<std::vector<std::uint32_t>> conflicts_;
  static constexpr std::uint32_t barred = ~std::uint32_t{0};
  std::map<Key, std::uint32_t> known_;  // to its number, or barred
  double bin_mm_ = 1;
  std::map<Bin, std::vector<std::uint32_t>> bins_;
  std::vector<std::unordered_map<std::size_t, Seen>> seen_;  // by eye
};

}  // namespace petalproof::candidates
