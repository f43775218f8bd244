#pragma once
// Finds which pairs that must be hidden a choice of fillers leaves bare, and which fillers are idle: they
// hide nothing that the others don't. After a change of a few fillers it looks only where they hide anything.
// FillerChoice calls it.

#include "engine/base/pool.h"
#include "engine/candidates/candidate_pool.h"
#include "engine/candidates/candidates.h"
#include "engine/candidates/must_hide.h"

#include <cstdint>
#include <map>
#include <unordered_map>
#include <utility>
#include <vector>

namespace petalproof::fill {

// `chosen`: numbers of candidates in the pool.
class LeftBare {
 public:
  // Bare places are found one for each block of `block_places` each way. Refers to the grid, the pool and the
  // workers.
  LeftBare(const candidates::PlaceGrid& grid, candidates::CandidatePool& pool, int block_places,
           const Pool& workers);

  // The pairs left bare, ascending. Eye::others may only grow from one call to the next.
  std::vector<candidates::Pair> find(const candidates::MustHide& must_hide,
                                     const std::vector<std::uint32_t>& chosen);
  // The same, faster: `before` are the pairs that were left of the same `must_hide` before the `changed`
  // fillers were added or removed.
  std::vector<candidates::Pair> findAfter(const std::vector<std::uint32_t>& changed,
                                          const std::vector<candidates::Pair>& before,
                                          const candidates::MustHide& must_hide,
                                          const std::vector<std::uint32_t>& chosen);
  // Removes idle fillers, the last first.
  void removeIdle(const candidates::MustHide& must_hide, std::vector<std::uint32_t>& chosen);

 private:
  // A rectangle of the grid, in whole blocks; empty where `to` isn't above `from`.
  struct Part {
    int from_column = 0;
    int from_row = 0;
    int to_column = 0;
    int to_row = 0;
    bool isEmpty() const { return to_column <= from_column || to_row <= from_row; }
    bool holds(int column, int row) const {
      return column >= from_column && row >= from_row && column < to_column && row < to_row;
    }
  };
  using Numbers = std::vector<std::uint32_t>;
  // Indices into Eye::others, by squares of the board plane.
  using Squares = std::map<std::pair<int, int>, Numbers>;
  void lookAt(const candidates::MustHide& must_hide);
  Part wholeGrid() const;
  void hideOthers(const candidates::MustHide& must_hide, std::size_t eye, const Numbers& fillers);
  bool hidesOther(std::size_t eye, std::uint32_t filler, std::uint32_t other) const;
  Part partOf(const candidates::MustHide& must_hide, std::size_t eye, const Numbers& changed) const;
  std::vector<candidates::Pair> onGrid(const candidates::MustHide& must_hide, std::size_t eye,
                                       const Part& part, const Numbers& chosen) const;
  std::vector<candidates::Pair> ofEye(const candidates::MustHide& must_hide, std::size_t eye,
                                      const Numbers& chosen);
  std::vector<candidates::Pair> ofEyeAfter(const Numbers& changed,
                                           const std::vector<candidates::Pair>& before,
                                           const candidates::MustHide& must_hide, std::size_t eye,
                                           const Numbers& chosen);
  std::vector<char> aloneFor(const candidates::MustHide& must_hide, std::size_t eye,
                             const Numbers& chosen) const;
  bool isAloneFor(const candidates::MustHide& must_hide, std::size_t eye, std::uint32_t filler,
                  const Numbers& chosen) const;

  const candidates::PlaceGrid& grid_;
  candidates::CandidatePool& pool_;
  int block_places_;
  const Pool& workers_;
  std::vector<Squares> others_;  // by eye
  // Which of Eye::others a filler hides.
  struct HiddenOthers {
    std::size_t looked_at = 0;  // how many were tested
    Numbers numbers;            // ascending
  };
  std::vector<std::unordered_map<std::uint32_t, HiddenOthers>> hidden_;  // by eye, then filler
};

// Picks a place from each block of `block_places` each way: the first by a hash, so that they form no
// straight rows.
std::vector<candidates::Pair> oneInEachBlock(const candidates::PlaceBits& bits, std::uint32_t eye,
                                             const candidates::PlaceGrid& grid, int block_places);

}  // namespace petalproof::fill
