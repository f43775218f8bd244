#pragma once
// CSV text as rows of cells.

#include "engine/base/problem.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace petalproof {

struct CellText {
  std::string text;
  Place place;
};

struct RowText {
  std::vector<CellText> cells;
  Place place;
};

// Every line end as one newline.
std::string withNewlines(const std::string& text);

// How often a separator stands in each line, outside of cells in quotes.
std::vector<int> separatorsPerLine(std::string_view text, char separator);

// "sep=;" in the first line: how some spreadsheets say what the separator is.
std::optional<char> declaredSeparator(std::string_view text);

// `text` has newlines at its line ends; a blank line is a row without cells. Spaces around a cell don't
// count. Fails where a quote is never closed.
Result<std::vector<RowText>> rowsFromCsv(std::string_view text, char separator, const std::string& file,
                                         int first_line);

}  // namespace petalproof
