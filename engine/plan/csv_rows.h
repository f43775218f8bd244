#pragma once
// CSV text as rows of cells.

#include "engine/base/problem.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace petalproof::plan {

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

// What is to be cut into cells, and where.
struct CsvText {
  std::string_view body;
  char separator = ',';
  int first_line = 1;  // of the body in the file
};

// The separator is the one a first line "sep=;" declares (how some spreadsheets say it), else of commas,
// semicolons and tabs the one that gives most lines so many columns, else most lines the same number.
CsvText csvText(std::string_view text, std::optional<int> columns);

// A line "sep=;" that declared nothing, since a spreadsheet has taken it for a row.
bool isSeparatorLine(const RowText& row);

// The body has newlines at its line ends; a blank line is a row without cells. Spaces around a cell don't
// count. Fails where a quote is never closed.
Result<std::vector<RowText>> rowsFromCsv(const CsvText& csv, const std::string& file);

}  // namespace petalproof::plan
