#pragma once
// A CSV file as a spreadsheet shows it: rows numbered from 1, cells without spaces around them. The readers
// of both tables start from it.

#include "engine/base/problem.h"
#include "engine/tables/tables.h"

#include <cstddef>
#include <string>
#include <vector>

namespace petalproof::tables {

struct SheetRow {
  int number = 0;  // in the spreadsheet
  std::vector<std::string> cells;

  // Empty beyond the row's end.
  const std::string& cell(std::size_t column) const;
  bool blank() const;
  std::size_t filled() const;       // how many cells aren't empty
  std::size_t firstFilled() const;  // precondition: not blank
};

struct Sheet {
  std::string file;
  std::vector<SheetRow> rows;

  Place at(const SheetRow& row) const { return {file, row.number}; }
  Place at(const SheetRow& row, std::size_t column) const;
  Place whole() const { return {file}; }
  std::size_t columns() const;  // of the widest row
};

// Cells are single lines: breaks and unusual spaces in them become plain spaces. Blank rows are kept.
Result<Sheet> readSheet(const TableFile& file);

}  // namespace petalproof::tables
