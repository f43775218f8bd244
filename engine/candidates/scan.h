#pragma once
// A quick look at all sites of all kinds: about how much of what is wanted each would hide, to find those
// worth a close look. Coarse on purpose; what a filler hides is found exactly afterwards.

#include "engine/candidates/internal/sites.h"
#include "engine/candidates/must_hide.h"
#include "engine/scene/filler_maker.h"

#include <glm/vec2.hpp>

#include <functional>
#include <vector>

namespace petalproof::candidates {

struct Proposal {
  std::size_t kind = 0;
  glm::dvec2 board_mm{0};
  int turn_deg = 0;
  float worth = 0;
};

// How much is wanted, summed over the eyes, on coarse cells.
class WantedMap {
 public:
  WantedMap(const PlaceGrid& grid, double cell_mm);
  double cell_mm() const { return cell_mm_; }
  void add(glm::dvec2 place, float worth);
  void clear();
  int columns() const { return columns_; }
  int rows() const { return rows_; }
  // The sum over cells [from, to] each way, cut to the map; quick once summed() was called after the last
  // add.
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
  std::vector<double> sums_;  // of all cells before it both ways; one more each way
};

struct ScanOptions {
  double pitch_mm = 6;
  int turns = 12;         // of greenery, all round; round blooms take one
  int each_cell = 8;      // proposals of each kind that every wanted cell gets, where there are as many
  float least_worth = 0;  // only what is worth more
  std::uint64_t seed = 1;
  std::function<void()> now_and_then;  // called within, from any thread; what it throws ends the scan
};

// Best first. Sites where the plate doesn't fit are left out. Call within Workers::run.
std::vector<Proposal> scanSites(const scene::FillerMaker& maker, const Sites& sites, WantedMap wanted,
                                const ScanOptions& options);

}  // namespace petalproof::candidates
