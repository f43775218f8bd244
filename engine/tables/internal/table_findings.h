#pragma once
// Collects problems and remarks while the tables are read.

#include "engine/base/problem.h"
#include "engine/tables/tables.h"

#include <string>
#include <utility>
#include <vector>

namespace petalproof::tables {

struct TableFindings {
  std::vector<Problem> problems;
  std::vector<Problem> remarks;  // on parts that were left out or could be read differently

  void problem(Place place, std::string message) {
    problems.push_back({std::move(place), std::move(message)});
  }
  void remark(Place place, std::string message) { remarks.push_back({std::move(place), std::move(message)}); }

  // Takes over another reading's problems and warnings; returns its value, if it has one.
  template <class T>
  std::optional<T> take(Result<T> from) {
    problems.insert(problems.end(), from.problems.begin(), from.problems.end());
    remarks.insert(remarks.end(), from.warnings.begin(), from.warnings.end());
    return std::move(from.value);
  }
};

}  // namespace petalproof::tables
