#pragma once
// From the rows of a table to kinds of bloom with names of their own, and counts on the wall.

#include "engine/tables/internal/bloom_table.h"
#include "engine/tables/tables.h"

#include <string>
#include <vector>

namespace petalproof::tables {

// Gives rows that are called alike but differ a name of their own: with their size, else their colour,
// else a number. Rows of the very same bloom keep one name.
void nameApart(std::vector<BloomRow>& rows, Units units);

// The layouts that rows name, each once, as first written.
std::vector<std::string> layoutsNamed(const std::vector<BloomRow>& rows);

// Blooms, counts and guesses of the rows, for the wall's grid. Precondition: named apart.
void addKinds(const std::vector<BloomRow>& rows, TablesPlan& plan, TableFindings& findings);

// What the row's blooms cover, all of them; long ones by their outline's share.
double areaOf(const BloomRow& row, Units units);

}  // namespace petalproof::tables
