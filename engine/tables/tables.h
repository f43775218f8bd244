#pragma once
// Makes a first plan from the two tables that a maker keeps in a spreadsheet: the layout in each cell of the
// wall, and the blooms with their sizes, colours and numbers. Tables are read as people write them; each
// guess is reported. `petalproof new` and the viewer's first wall call planFromTables, then arrange the
// blooms, then planWith.

#include "engine/base/problem.h"
#include "engine/plan/table_text.h"
#include "engine/tables/arrange_request.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace petalproof::tables {

using plan::TableFile;

// The caller's words for its inputs in messages; here those of the command line.
struct InputWords {
  std::string panel = "--panel";
  std::string size = "--size";
  std::string grid = "--grid";
  std::string recipe = "--recipe";
  std::string which_blooms =
      "Give --blooms blooms.csv, or --recipe large=1,medium=3,small=8,spray=2 for each panel";
  std::string how_large = "Give --size 96x96, --columns and --rows, or --grid grid.csv";
  // Appended to the reason for a guess; may be empty.
  std::string other_units = "; --units gives another";
  std::string other_panel = "; --panel gives another";
  std::string other_title = "; --title gives one";
};

// The maker's tables and options. Texts are as typed; an empty text wasn't given.
struct TablesInput {
  std::optional<TableFile> grid;
  std::optional<TableFile> blooms;
  std::string recipe;          // blooms of each kind on one panel: "large=1,medium=3,small=8,spray=2"
  std::optional<Units> units;  // of the plan; default: the units that the tables name
  std::string panel;           // "24x20"
  std::string size;            // of the wall, roughly: "96x96"
  std::optional<int> columns;  // 1 to 200, as are rows
  std::optional<int> rows;
  std::string title;
  std::uint64_t seed = 1;
  InputWords words;
};

// A value of the plan that neither tables nor options give.
struct Guess {
  std::string section;  // "wall", "bloom", or "" for the head of the plan
  std::string name;     // of the bloom
  std::string key;      // "shape"
  std::string value;    // as people read it: "dahlia", "4 1/4 in"
  std::string why;      // "by its name"
  Place from;           // the row of the table, if it belongs to one
  friend bool operator==(const Guess&, const Guess&) = default;
};

// A first plan, except the places of its blooms.
struct TablesPlan {
  std::string title;
  ArrangeRequest request;
  std::vector<Guess> guesses;
  std::string comes_to;  // "5 × 6 panels of 20 × 16 in: 100 × 96 in, 4 in wider than asked"
};

// Every problem is listed, with file, row and column letter. Warnings name the parts of the tables that were
// left out or that could be read differently.
Result<TablesPlan> planFromTables(const TablesInput& input);

// The plan that hangs these layouts in the cells of this grid, of the request's size.
plan::Plan planWith(const TablesPlan& tables, Grid<plan::Cell> grid, std::vector<plan::Layout> layouts);

}  // namespace petalproof::tables
