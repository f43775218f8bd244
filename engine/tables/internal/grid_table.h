#pragma once
// Which layout hangs in which cell, from a table.

#include "engine/base/grid.h"
#include "engine/plan/plan.h"
#include "engine/tables/internal/table_findings.h"
#include "engine/tables/internal/table_sheet.h"

#include <optional>
#include <string>
#include <string_view>

namespace petalproof::tables {

struct GridCellText {
  plan::Cell cell;         // `layout` as written
  bool shortened = false;  // "upside down" was written in another way
};

// "sun", "Sun (upside down)", "sun u/d", "sun 180", "-".
GridCellText gridCellFrom(std::string_view text);

struct GridTable {
  std::string title;      // a line above the table; empty: none
  Grid<plan::Cell> grid;  // no columns where something is wrong
};

// Layout names are the same in any case; each gets the spelling of its first cell.
GridTable readGridTable(const Sheet& sheet, std::optional<int> columns, std::optional<int> rows,
                        TableFindings& findings);

}  // namespace petalproof::tables
