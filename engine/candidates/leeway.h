#pragma once
// Tracks remaining stock, face coverage and conflicts while fillers are chosen. The searches and bestFirst()
// ask it whether a candidate may be added.

#include "engine/candidates/candidate_pool.h"
#include "engine/candidates/search_task.h"

#include <algorithm>
#include <cstdint>
#include <map>
#include <vector>

namespace petalproof::candidates {

enum class StockRule { kept, ignored };

class Leeway {
 public:
  Leeway(const SearchTask& task, const CandidatePool& pool, const std::vector<std::uint32_t>& chosen,
         StockRule stock)
      : task_(task), pool_(pool), stock_(stockLeft(task.plan, task.maker)), in_the_way_(pool.size(), 0) {
    if (stock == StockRule::ignored) std::fill(stock_.begin(), stock_.end(), -1);
    for (const std::uint32_t k : chosen) take(k);
  }
  // Adds a candidate to the chosen ones.
  void take(std::uint32_t k) {
    if (stock_[pool_[k].kind] > 0) --stock_[pool_[k].kind];
    for (const FaceHidden& face : pool_[k].takes) taken_[face.bloom] += face.places;
    in_the_way_[k] = 1;
    for (const std::uint32_t other : pool_.conflicts()[k]) in_the_way_[other] = 1;
  }
  // Whether the candidate may be added.
  bool has(std::size_t k) const {
    if (in_the_way_[k] != 0 || stock_[pool_[k].kind] == 0) return false;
    return std::all_of(pool_[k].takes.begin(), pool_[k].takes.end(), [&](const FaceHidden& face) {
      const auto taken = taken_.find(face.bloom);
      return face.places + (taken == taken_.end() ? 0.0 : taken->second) <= task_.sites.faceLimit(face.bloom);
    });
  }

 private:
  const SearchTask& task_;
  const CandidatePool& pool_;
  std::vector<int> stock_;                // left of each kind; -1: any number
  std::vector<char> in_the_way_;          // 1: chosen, or in conflict with a chosen candidate
  std::map<std::int32_t, double> taken_;  // places of each bloom's face that chosen candidates hide
};

}  // namespace petalproof::candidates
