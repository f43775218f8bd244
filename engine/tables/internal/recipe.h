#pragma once
// Reads a recipe, the number of blooms of each kind on a panel: "large=1,medium=3,small=8,spray=2".
// planFromTables calls this if the maker gives a recipe instead of counts.

#include "engine/tables/internal/bloom_table.h"

#include <string>
#include <vector>

namespace petalproof::tables {

struct RecipePart {
  std::string name;
  int count = 0;
  Place from;
};

// `from` is the place that problems name.
std::vector<RecipePart> recipeFromText(const std::string& text, const Place& from, TableFindings& findings);

// A bloom of guessed size, shape and colour for each part.
std::vector<BloomRow> bloomsOfRecipe(const std::vector<RecipePart>& recipe, const BloomContext& context,
                                     TableFindings& findings);

// Gives the table's blooms the recipe's numbers, by their names.
void applyRecipe(const std::vector<RecipePart>& recipe, std::vector<BloomRow>& rows, TableFindings& findings);

}  // namespace petalproof::tables
