#pragma once
// Turns the rows of a bloom table into kinds of bloom with different names and counts on the wall;
// planFromTables calls this.

#include "engine/tables/internal/bloom_table.h"
#include "engine/tables/tables.h"

#include <string>
#include <vector>

namespace petalproof::tables {

// Renames different blooms of the same name: with their size, else their colour, else a number. Rows of the
// very same bloom keep a common name.
void nameApart(std::vector<BloomRow>& rows, Units units);

// The layouts that the rows name, each once and as first written.
std::vector<std::string> layoutsNamed(const std::vector<BloomRow>& rows);

// Adds the rows' blooms, counts and guesses to the plan. Precondition: nameApart() was called, the wall has
// its grid.
void addKinds(const std::vector<BloomRow>& rows, TablesPlan& plan, TableFindings& findings);

// The area in mm2 that all blooms of the row cover; greenery covers a share of length times width.
double areaOf(const BloomRow& row, Units units);

}  // namespace petalproof::tables
