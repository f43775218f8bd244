#pragma once
// Reads sizes, counts and amounts in the ways people write them in cells. The readers of the tables and of
// options call this.

#include "engine/base/units.h"

#include <optional>
#include <string>
#include <string_view>

namespace petalproof::tables {

// Whether the text is a date, as spreadsheets make of sizes such as 4-3: "4-Mar", "04/03/2026", "2026-03-04",
// "Mar-26".
bool looksLikeDate(std::string_view text);

// The unit that the text names: a mark or a word after a number.
std::optional<Units> unitsNamed(std::string_view text);

struct SizeText {
  Length length;
  std::optional<Length> width;  // of "10 x 4"
  std::string guessed;  // why the size isn't exact: "about", "the middle of 15 to 17"; empty: it is exact
};

// "17", "17\"", "17 in", "7-1/4", "8'4\"", "43 cm", "10 x 4 in", "about 12 in", "15-17 in"; a number
// without a unit is in `cell_units`, the result in `units`. Nothing for other text.
std::optional<SizeText> sizeFromText(std::string_view text, Units cell_units, Units units);

struct CountText {
  int count = 0;
  bool per_panel = false;  // "3 per panel"
  bool about = false;      // "~12"
};

// "12", "12 pcs", "x12", "12.0", "1,200", "a dozen". Nothing for other text and for numbers that aren't
// whole.
std::optional<CountText> countFromText(std::string_view text);

// "1.5", "1,5", "1 1/2", "1.5 sheets". Nothing for other text, such as "2 h".
std::optional<double> amountFromText(std::string_view text);

// The answer of a cell; an empty cell means no. Nothing for a text that means neither yes nor no.
std::optional<bool> yesOrNo(std::string_view text);

// Whether the text is a mark for "as in the row above": "ditto", "as above", a quote mark.
bool meansAsAbove(std::string_view text);

}  // namespace petalproof::tables
