#pragma once
// A grid as it is written, before anything is made of it: from TOML or from a CSV file.

#include "engine/plan/csv_rows.h"

#include <optional>
#include <string>
#include <vector>

namespace petalproof::plan {

struct GridText {
  std::vector<RowText> rows;
  Place place;
};

// A grid as spreadsheets export it, read like a table (table_text.h, csv_rows.h): UTF-8, UTF-16 or else
// Windows-1252 (with a warning), any line ends, cells apart by commas, semicolons or tabs, quoted where need
// be. `columns` and `rows` of the wall help to tell the separator and what is only the sheet's empty margin:
// blank lines at the end, and empty rows and cells beyond the wall's size, are left out. Spaces around a cell
// don't count.
Result<GridText> gridFromCsv(std::string bytes, const std::string& file, std::optional<int> columns,
                             std::optional<int> rows);

}  // namespace petalproof::plan
