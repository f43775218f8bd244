#pragma once
// The arguments of `petalproof new`, and the plan file that it writes. Both ways to a first plan, the starter
// plan and a maker's tables, end here.

#include "viewer/output.h"

#include "engine/plan/plan.h"

#include <cstdint>

#include <optional>
#include <string>
#include <vector>

namespace petalproof {

// Empty texts: not given.
struct NewArguments {
  std::string file;
  std::string title;
  std::string grid;
  std::string blooms;
  std::string recipe;
  std::string size;
  std::string panel;
  std::optional<Units> units;
  std::optional<int> columns;
  std::optional<int> rows;
  std::uint64_t seed = 1;
};

// The plan file, still without its text.
std::vector<Output> outputsOf(const NewArguments& arguments);

// Writes the text to `file`, where nothing may be. Says what went wrong.
std::optional<std::string> writeNewPlan(const NewArguments& arguments, const std::string& text);

}  // namespace petalproof
