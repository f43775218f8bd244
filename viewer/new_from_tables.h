#pragma once
// The first plan from a maker's tables. `petalproof new` calls it where tables or a recipe are given.

#include "viewer/command.h"
#include "viewer/new_plan.h"

namespace petalproof {

// Reads the tables, arranges the blooms and writes the plan; tells what was guessed and left out.
// Precondition: a grid, blooms or a recipe is given, and nothing is at `file`.
ExitStatus newFromTables(const NewArguments& arguments);

}  // namespace petalproof
