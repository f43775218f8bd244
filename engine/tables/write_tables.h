#pragma once
// A plan back as the two tables. They open alike in a spreadsheet of any locale: the first line names the
// separator, lengths carry their unit, numbers with a fraction their kind ("1.5 sheets"), so that nothing
// is taken for a date or a thousand. planFromTables on them gives the same cells and counts.

#include "engine/plan/plan.h"

#include <string>

namespace petalproof::tables {

// Row by row what hangs in each cell, as the plan's grid says it.
std::string gridTable(const plan::Plan& plan);

// One row a kind: sizes, colours, how many hang on the wall, fillers apart, card, strips and minutes for
// one and in all; a line of totals below.
std::string bloomTable(const plan::Plan& plan);

}  // namespace petalproof::tables
