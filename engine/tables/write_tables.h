#pragma once
// Writes a plan as the two tables, for `petalproof tables`. They open alike in a spreadsheet of any locale:
// the first line names the separator, lengths carry their unit, numbers with a fraction their kind ("1.5
// sheets"), so that no cell is taken for a date or a thousand. planFromTables on them gives the same cells
// and counts.

#include "engine/plan/plan.h"

#include <string>

namespace petalproof::tables {

// The grid's layouts, row by row.
std::string gridTable(const plan::Plan& plan);

// A row for each kind of bloom: sizes, colours, the number on the wall (fillers apart), card, strips and
// minutes for one bloom and for all; a line of totals below.
std::string bloomTable(const plan::Plan& plan);

}  // namespace petalproof::tables
