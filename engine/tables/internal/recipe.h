#pragma once
// How many blooms of each kind hang on one panel: "large=1,medium=3,small=8,spray=2".

#include "engine/tables/internal/bloom_table.h"

#include <string>
#include <vector>

namespace petalproof::tables {

struct RecipePart {
  std::string name;
  int count = 0;
  Place from;
};

// `from`: where it was given.
std::vector<RecipePart> recipeFromText(const std::string& text, const Place& from, TableFindings& findings);

// Blooms of usual sizes, shapes and colours for the parts, all of it guessed.
std::vector<BloomRow> bloomsOfRecipe(const std::vector<RecipePart>& recipe, const BloomContext& context,
                                     TableFindings& findings);

// Gives the table's blooms the recipe's numbers.
void applyRecipe(const std::vector<RecipePart>& recipe, std::vector<BloomRow>& rows, TableFindings& findings);

}  // namespace petalproof::tables
