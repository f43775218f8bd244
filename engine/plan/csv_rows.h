#pragma once
// Cuts CSV text into rows of cells, each with its place in the file. The readers of a plan's grid and of a
// maker's tables call this.

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

// The text with each line end (CR, LF, CR LF) as one newline.
std::string withNewlines(const std::string& text);

// How many separators each line has outside quoted cells.
std::vector<int> separatorsPerLine(std::string_view text, char separator);

// CSV text with the separator that cuts its rows into cells.
struct CsvText {
  std::string_view body;
  char separator = ',';
  int first_line = 1;  // of the body in the file
};

// Finds the separator: the character that a first line "sep=;" declares (as some spreadsheets do), else the
// comma, semicolon or tab that gives the most lines `columns` cells, else the most lines the same number of
// cells.
CsvText csvText(std::string_view text, std::optional<int> columns);

// Whether the row is a line "sep=;" that a spreadsheet took for a row and wrote out again.
bool isSeparatorLine(const RowText& row);

// Cuts the body into rows. Precondition: newlines as line ends. A blank line is a row without cells. Spaces
// around a cell don't count. Fails if a quote is never closed.
Result<std::vector<RowText>> rowsFromCsv(const CsvText& csv, const std::string& file);

}  // namespace petalproof::plan
