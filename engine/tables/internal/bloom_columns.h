#pragma once
// Which column of a bloom table says what, by its heading.

#include "engine/base/problem.h"
#include "engine/base/units.h"
#include "engine/tables/internal/table_sheet.h"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace petalproof::tables {

enum class Meaning {
  name,
  shape,
  size,
  width,
  depth,
  count,
  colour,
  card,
  sheets,
  strips,
  minutes,
  filler,
  stock,
  layout,
  petals,
  layers,
  plate,
  label,
  mesh,
  unit,   // of the size in the same row
  unread  // known to say nothing a plan needs
};

struct Heading {
  Meaning meaning = Meaning::unread;
  bool in_all = false;         // "total sheets": of all copies
  bool per_panel = false;      // "qty per panel"
  std::optional<Units> units;  // "size (cm)"
  std::string meant;           // what a misspelt word was taken for; empty: nothing was
};

enum class Slips { refused, forgiven };

// Nothing where no word of it is known; with slips forgiven, a word nearly known will do.
std::optional<Heading> headingFrom(std::string_view text, Slips slips);

struct BloomColumn {
  std::size_t number = 0;  // in the sheet, from 0
  Heading heading;
  std::string text;
};

struct BloomColumns {
  std::size_t heading_row = 0;  // in Sheet::rows
  std::vector<BloomColumn> all;

  const BloomColumn* find(Meaning meaning) const;  // the one to read; nullptr: there is none
};

// The row of headings and what they mean. Asks, in a problem, where one that is needed isn't there or two
// say the same; `count_needed`: how many of each must be in the table.
Result<BloomColumns> findColumns(const Sheet& sheet, bool count_needed);

}  // namespace petalproof::tables
