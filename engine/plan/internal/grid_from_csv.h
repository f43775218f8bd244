#pragma once
// The wall's grid as text cells, before layout names are looked up; read here from a CSV file. The reader of
// [wall] calls this.

#include "engine/plan/csv_rows.h"

#include <optional>
#include <string>
#include <vector>

namespace petalproof::plan {

struct GridText {
  std::vector<RowText> rows;
  Place place;
};

// Reads a grid as spreadsheets export it (table_text.h, csv_rows.h): UTF-8, UTF-16 or else Windows-1252 (with
// a warning), any line ends, cells separated by commas, semicolons or tabs, quoted or not. The wall's
// `columns` and `rows` help to find the separator and to leave out the sheet's empty margin: blank lines at
// the end, and empty rows and cells beyond the wall's size. Spaces around a cell don't count.
Result<GridText> gridFromCsv(std::string bytes, const std::string& file, std::optional<int> columns,
                             std::optional<int> rows);

}  // namespace petalproof::plan
