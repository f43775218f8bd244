#pragma once
// The fillers that a search has chosen, with the candidates and pairs that it chose them from, and the steps
// that improve a choice locally: add candidates for bare pairs, shift neighbours, exchange several for fewer.
// FillerSearch makes the choices.

#include "engine/candidates/candidate_pool.h"
#include "engine/candidates/candidates.h"
#include "engine/candidates/fewer.h"
#include "engine/candidates/must_hide.h"
#include "engine/candidates/search_task.h"
#include "engine/fill/internal/left_bare.h"

#include <cstdint>
#include <map>
#include <utility>
#include <vector>

namespace petalproof::fill {

class FillerChoice {
 public:
  using Numbers = std::vector<std::uint32_t>;  // of candidates in the pool

  // Refers to `task`, which must outlive it.
  explicit FillerChoice(const candidates::SearchTask& task);
  FillerChoice(const FillerChoice&) = delete;
  FillerChoice& operator=(const FillerChoice&) = delete;

  // From now on the eyes are those of `must_hide`, to which eyes and places may have been added.
  void lookFrom(const candidates::MustHide& must_hide);
  // Looks at these pairs too, and finds which candidates hide them.
  void look(const candidates::MustHide& must_hide, const std::vector<candidates::Pair>& pairs);
  void add(const std::vector<candidates::Proposal>& proposals) { pool_.add(proposals); }

  const candidates::CandidatePool& pool() const { return pool_; }
  const candidates::PairList& pairs() const { return pairs_; }
  const std::vector<candidates::Eye>& eyes() const { return eyes_; }
  int blockPlaces() const {
    return block_places_;
  }                                            // places each way of a block, of which one place is looked at
  double cell_mm() const { return cell_mm_; }  // the same in mm

  const Numbers& chosen() const { return chosen_; }
  void choose(Numbers chosen) { chosen_ = std::move(chosen); }
  // Pairs that the choice leaves bare, looked at or not, as of the last findUncovered() or complete().
  const std::vector<candidates::Pair>& uncovered() const { return uncovered_; }
  void findUncovered(const candidates::MustHide& must_hide) { uncovered_ = left_.find(must_hide, chosen_); }
  glm::dvec2 placeOf(const candidates::Pair& pair) const;
  // For each pair looked at 1 if a chosen filler hides it.
  std::vector<char> hiddenByChosen() const;
  // Removes from the places of the eyes from `first_eye` on those that the choice leaves bare.
  void giveUpBare(candidates::MustHide& must_hide, std::size_t first_eye);

  // A choice that a search may come back to.
  struct State {
    Numbers chosen;
    std::vector<candidates::Pair> uncovered;
    bool isBetterThan(const State& other) const {
      return std::pair(uncovered.size(), chosen.size()) <
             std::pair(other.uncovered.size(), other.chosen.size());
    }
  };
  State state() const { return {chosen_, uncovered_}; }
  void goBackTo(State state);

  // Adds or shifts fillers until nothing is left bare that a candidate could hide, and removes idle fillers.
  void complete(const candidates::MustHide& must_hide);
  // Exchanges neighbouring fillers for one fewer, as long as that succeeds.
  void shiftForFewer(const candidates::MustHide& must_hide);

 private:
  bool exchange(const candidates::MustHide& must_hide, const candidates::Exchange& tried);
  bool shiftForBare(const candidates::MustHide& must_hide);
  Numbers nearestChosen(glm::dvec2 place, std::size_t most) const;
  bool put(const Numbers& kept, const std::vector<candidates::Proposal>& in, Numbers& numbers);
  bool canStand(const Numbers& fresh, Numbers kept) const;
  bool addMissing();

  const candidates::SearchTask& task_;
  const candidates::PlaceGrid& grid_;
  int block_places_;
  double cell_mm_;
  candidates::PairList pairs_;
  candidates::CandidatePool pool_;
  LeftBare left_;
  std::vector<int> stock_;  // by kind; -1: any number
  std::vector<candidates::Eye> eyes_;
  Numbers chosen_;
  std::vector<candidates::Pair> uncovered_;
  std::map<std::pair<int, int>, int> shifted_for_;  // how often fillers were shifted for a block's bare pairs
};

}  // namespace petalproof::fill
