#pragma once
// Reads the grid table: the layout in each cell of the wall. planFromTables calls this.

#include "engine/base/grid.h"
#include "engine/plan/plan.h"
#include "engine/tables/internal/table_findings.h"
#include "engine/tables/internal/table_sheet.h"

#include <optional>
#include <string>

namespace petalproof::tables {

struct GridTable {
  std::string title;      // a line above the table; empty: none
  Grid<plan::Cell> grid;  // without columns if there is a problem
};

// Upper and lower case don't distinguish layout names; each name gets the spelling of its first cell.
GridTable readGridTable(const Sheet& sheet, std::optional<int> columns, std::optional<int> rows,
                        TableFindings& findings);

}  // namespace petalproof::tables
