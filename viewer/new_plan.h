#pragma once
// What `petalproof new` is asked for, and the way from a maker's tables.

#include "viewer/command.h"

#include "engine/plan/plan.h"

#include <optional>
#include <string>

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

// Reads the tables, arranges the blooms and writes the plan; tells what was guessed and left out.
// Precondition: a grid, blooms or a recipe is given, and nothing is at `file`.
ExitStatus newFromTables(const NewArguments& arguments);

// Writes the text to `file`, where nothing may be. Says what went wrong.
std::optional<std::string> writeNewPlan(const NewArguments& arguments, const std::string& text);

}  // namespace petalproof
