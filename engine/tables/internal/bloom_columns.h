#pragma once
// Finds the row of headings in a bloom table and the columns under them; planFromTables calls this.

#include "engine/base/problem.h"
#include "engine/tables/internal/bloom_headings.h"
#include "engine/tables/internal/table_sheet.h"

#include <cstddef>
#include <string>
#include <vector>

namespace petalproof::tables {

struct BloomColumn {
  std::size_t number = 0;  // in the sheet, from 0
  Heading heading;
  std::string text;
};

struct BloomColumns {
  std::size_t heading_row = 0;  // in Sheet::rows
  std::vector<BloomColumn> columns;

  const BloomColumn* find(Meaning meaning) const;  // the column to read; nullptr if there is none
};

// Finds the headings and their meanings. A problem asks about a needed column that is missing and about two
// columns of the same meaning. `count_needed`: the table must have a column of counts.
Result<BloomColumns> findColumns(const Sheet& sheet, bool count_needed);

}  // namespace petalproof::tables
