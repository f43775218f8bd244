#pragma once
#include "engine/base/problem.h"
#include "engine/tables/tables.h"

#include <string>
#include <utility>
#include <vector>

namespace petalproof::tables {

// What reading the tables has found so far.
struct TableFindings {
  std::vector<Problem> problems;
  std::vector<Problem> remarks;  // what was left out, or read in a way that others might not

  void problem(Place place, std::string message) {
    problems.push_back({std::move(place), std::move(message)});
  }
  void remark(Place place, std::string message) { remarks.push_back({std::move(place), std::move(message)}); }

  // Takes over what another reading found; its value, if there is one.
  template <class T>
  std::optional<T> take(Result<T> from) {
    problems.insert(problems.end(), from.problems.begin(), from.problems.end());
    remarks.insert(remarks.end(), from.warnings.begin(), from.warnings.end());
    return std::move(from.value);
  }
};

}  // namespace petalproof::tables
