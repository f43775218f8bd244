#pragma once
// Guesses what a table leaves open about its blooms: shape, depth, petals, assorted colours. The readers of
// tables and recipes call this.

#include "engine/base/units.h"
#include "engine/tables/internal/bloom_table.h"

#include <string>
#include <vector>

namespace petalproof::tables {

// Fills in the shape: from the text of the shape's cell, else from the bloom's name, else from its size. Also
// fills in missing depth, petals and a leaf's plate. Precondition: name and diameter are known.
void guessForm(BloomRow& row, const std::string& shape_text, Units units);

// Gives each row of assorted colours several colours: those of the other blooms, else the usual palette.
void chooseAssorted(std::vector<BloomRow>& rows);

}  // namespace petalproof::tables
