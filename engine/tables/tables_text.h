#pragma once
// Tells people what was guessed for a first plan: as comments in the plan's text and as lines on the screen.
// The callers of planFromTables call this.

#include "engine/plan/plan.h"
#include "engine/tables/tables.h"

#include <string>
#include <vector>

namespace petalproof::tables {

// A line for each bloom, and for each other value, with what was guessed and why.
std::vector<std::string> guessLines(const std::vector<Guess>& guesses);

// The plan as TOML with a comment beside each guessed value. Precondition: no two blooms of a name.
std::string planText(const plan::Plan& plan, const std::vector<Guess>& guesses);

}  // namespace petalproof::tables
