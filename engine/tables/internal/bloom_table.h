#pragma once
// Reads the rows of a bloom table; planFromTables calls this with the columns that bloom_columns.h found.

#include "engine/plan/plan.h"
#include "engine/tables/internal/bloom_columns.h"
#include "engine/tables/internal/table_findings.h"
#include "engine/tables/internal/table_sheet.h"
#include "engine/tables/tables.h"

#include <optional>
#include <string>
#include <vector>

namespace petalproof::tables {

struct BloomRow {
  plan::Bloom bloom;
  int count = 0;
  bool per_panel = false;  // `count` is on each panel of the layout, or of the wall
  std::string layout;      // as written; empty: any
  std::string written_name;
  std::string written_colour;
  bool assorted = false;  // "assorted" colours: chooseAssorted() adds them
  Place place;
  std::vector<Guess> guesses;  // without section and name

  void guess(std::string key, std::string value, std::string why) {
    guesses.push_back({"bloom", "", std::move(key), std::move(value), std::move(why), place});
  }
};

struct BloomTable {
  std::string title;  // a line above the table; empty: none
  std::vector<BloomRow> rows;
};

// Units, panel and demands that the rows are read with.
struct BloomContext {
  Units units = Units::inch;
  plan::Size panel;          // sizes such as "large" are shares of its shorter side
  bool count_needed = true;  // false: a recipe says how many
};

// The unit that most sizes of the table name; nothing if no size names a unit.
std::optional<Units> unitsOfSizes(const Sheet& sheet, const BloomColumns& columns);

BloomTable readBloomTable(const Sheet& sheet, const BloomColumns& columns, const BloomContext& context,
                          TableFindings& findings);

}  // namespace petalproof::tables
