#pragma once
// What chosen fillers leave bare of all that must be hidden, and which of them hide nothing that the others
// don't. A change of a few is looked at only where it makes a difference.

#include "engine/candidates/candidate_pool.h"
#include "engine/candidates/candidates.h"
#include "engine/candidates/must_hide.h"

#include <cstdint>
#include <map>
#include <unordered_map>
#include <utility>
#include <vector>

namespace petalproof::fill {

// Of one pool, which it asks what each filler hides; call within Workers::run. `chosen`: numbers in the pool.
class LeftBare {
 public:
  // Blocks of so many places each way, in each of which one that is left stands for all.
  LeftBare(const candidates::PlaceGrid& grid, candidates::CandidatePool& pool, int block_places);

  // Ascending. Eye::others may only grow from one call to the next.
  std::vector<candidates::Pair> find(const candidates::MustHide& all,
                                     const std::vector<std::uint32_t>& chosen);
  // The same of the same `all`, where `before` is what was left before the `changed` ones came to the chosen
  // or went.
  std::vector<candidates::Pair> findAfter(const std::vector<std::uint32_t>& changed,
                                          const std::vector<candidates::Pair>& before,
                                          const candidates::MustHide& all,
                                          const std::vector<std::uint32_t>& chosen);
  // Takes out those that hide nothing that the others don't, the last first.
  void removeIdle(const candidates::MustHide& all, std::vector<std::uint32_t>& chosen);

 private:
  // Rows and columns of the grid, in whole blocks; empty where `to` isn't above `from`.
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
  // Eye::others, by squares of the board plane.
  using Squares = std::map<std::pair<int, int>, Numbers>;
  void lookAt(const candidates::MustHide& all);
  Part wholeGrid() const;
  void hideOthers(const candidates::MustHide& all, std::size_t eye, const Numbers& fillers);
  bool hidesOther(std::size_t eye, std::uint32_t filler, std::uint32_t other) const;
  Part partOf(const candidates::MustHide& all, std::size_t eye, const Numbers& changed) const;
  std::vector<candidates::Pair> onGrid(const candidates::MustHide& all, std::size_t eye, const Part& part,
                                       const Numbers& chosen) const;
  std::vector<candidates::Pair> ofEye(const candidates::MustHide& all, std::size_t eye,
                                      const Numbers& chosen);
  std::vector<candidates::Pair> ofEyeAfter(const Numbers& changed,
                                           const std::vector<candidates::Pair>& before,
                                           const candidates::MustHide& all, std::size_t eye,
                                           const Numbers& chosen);
  std::vector<char> aloneFor(const candidates::MustHide& all, std::size_t eye, const Numbers& chosen) const;
  bool isAloneFor(const candidates::MustHide& all, std::size_t eye, std::uint32_t one,
                  const Numbers& chosen) const;

  const candidates::PlaceGrid& grid_;
  candidates::CandidatePool& pool_;
  int block_places_;
  std::vector<Squares> others_;  // by eye
  struct HiddenOthers {
    std::size_t looked_at = 0;
    Numbers numbers;  // ascending
  };
  std::vector<std::unordered_map<std::uint32_t, HiddenOthers>> hidden_;  // by eye, then filler
};

// One place of each block of so many places each way, the one that comes first by a hash: no straight rows.
std::vector<candidates::Pair> oneInEachBlock(const candidates::PlaceBits& bits, std::uint32_t eye,
                                             const candidates::PlaceGrid& grid, int block_places);

}  // namespace petalproof::fill
