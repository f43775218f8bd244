#pragma once
// Scans all sites of the wall for fillers that hide much of what is wanted. proposals.h and the hands' search
// call it with a map of wanted places. Coarse on purpose: CandidatePool finds exactly what each proposal
// hides.

#include "engine/candidates/must_hide.h"
#include "engine/candidates/search_task.h"

#include <glm/vec2.hpp>

#include <vector>

namespace petalproof::candidates {

// A filler to be looked at closely: where and how it might hang.
struct Proposal {
  std::size_t kind = 0;
  glm::dvec2 board_mm{0};
  int turn_deg = 0;
  float worth = 0;  // about how much of what is wanted it hides
};

// How much each cell of a coarse grid needs to be hidden, summed over the eyes.
class WantedMap {
 public:
  WantedMap(const PlaceGrid& grid, double cell_mm);
  double cell_mm() const { return cell_mm_; }
  void add(glm::dvec2 place, float worth);
  void clear();
  int columns() const { return columns_; }
  int rows() const { return rows_; }
  // The sum over the cells [from, to] each way, cut to the map. Needs a call of summed() after the last
  // add().
  void summed();
  double sumOver(int from_column, int from_row, int to_column, int to_row) const;
  float at(int column, int row) const {
    return worth_[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) +
                  static_cast<std::size_t>(column)];
  }

 private:
  double cell_mm_;
  int columns_ = 0;
  int rows_ = 0;
  std::vector<float> worth_;
  std::vector<double> sums_;  // of all cells left of and below a cell's corner
};

struct ScanOptions {
  double pitch_mm = 6;
  int turns = 12;         // of greenery, all round; round blooms get a random turn
  int each_cell = 8;      // proposals of each kind for every wanted cell, if there are as many
  float least_worth = 0;  // proposals must be worth more
  std::uint64_t seed = 1;
};

// The proposals, best first, without sites where the base plate doesn't fit.
std::vector<Proposal> scanSites(const SearchTask& task, WantedMap wanted, const ScanOptions& options);

}  // namespace petalproof::candidates
