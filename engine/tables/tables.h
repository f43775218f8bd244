#pragma once
// From the two tables a maker keeps in a spreadsheet to a first plan: which layout hangs in which cell of
// the wall, and which blooms of what size, colour and number that takes. Tables are read as people write
// them; what had to be guessed is told, never silent.

#include "engine/base/problem.h"
#include "engine/plan/table_text.h"
#include "engine/tables/arrange_request.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace petalproof::tables {

using plan::TableFile;

// What those who give something call it, for what they are told of it; as said for the command line.
struct InputWords {
  std::string panel = "--panel";
  std::string size = "--size";
  std::string grid = "--grid";
  std::string recipe = "--recipe";
  std::string which_blooms =
      "Give --blooms blooms.csv, or --recipe large=1,medium=3,small=8,spray=2 for each panel";
  std::string how_large = "Give --size 96x96, --columns and --rows, or --grid grid.csv";
  // Put after the reason for a guess; may be empty.
  std::string other_units = "; --units gives another";
  std::string other_panel = "; --panel gives another";
  std::string other_title = "; --title gives one";
};

// What there is to begin with; texts as typed, empty: not given.
struct TablesInput {
  std::optional<TableFile> grid;
  std::optional<TableFile> blooms;
  std::string recipe;          // blooms of each kind on one panel: "large=1,medium=3,small=8,spray=2"
  std::optional<Units> units;  // of the plan; else those the tables name
  std::string panel;           // "24x20"
  std::string size;            // of the wall, about: "96x96"
  std::optional<int> columns;  // 1 to 200, as are rows
  std::optional<int> rows;
  std::string title;
  std::uint64_t seed = 1;
  InputWords words;
};

// A value of the plan that nobody wrote down.
struct Guess {
  std::string section;  // "wall", "bloom", or "" for the head of the plan
  std::string name;     // of the bloom
  std::string key;      // "shape"
  std::string value;    // as people read it: "dahlia", "4 1/4 in"
  std::string why;      // "by its name"
  Place from;           // the row of the table, where there is one
  friend bool operator==(const Guess&, const Guess&) = default;
};

// Everything of a first plan but the places of its blooms.
struct TablesPlan {
  std::string title;
  ArrangeRequest request;
  std::vector<Guess> guesses;
  std::string comes_to;  // "5 × 6 panels of 20 × 16 in: 100 × 96 in, 4 in wider than asked"
};

// Every problem is listed, with file, row and column letter. Warnings say what of the tables was left
// out, or read in a way that others might not.
Result<TablesPlan> planFromTables(const TablesInput& input);

// One line a bloom (and one for each other value) that tells what was guessed and why.
std::vector<std::string> guessLines(const std::vector<Guess>& guesses);

// The plan that hangs these layouts in the cells of this grid, of the request's size.
plan::Plan planWith(const TablesPlan& tables, Grid<plan::Cell> grid, std::vector<plan::Layout> layouts);

// The plan as TOML, with a comment beside each guessed value. Precondition: no two blooms of a name.
std::string planText(const plan::Plan& plan, const std::vector<Guess>& guesses);

}  // namespace petalproof::tables
