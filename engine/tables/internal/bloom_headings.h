#pragma once
// Understands the headings of a bloom table's columns by their words.

#include "engine/base/units.h"

#include <optional>
#include <string>
#include <string_view>

namespace petalproof::tables {

// The value that a column holds.
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
  unread  // a known heading that a plan doesn't need
};

// A column's heading as understood.
struct Heading {
  Meaning meaning = Meaning::unread;
  bool in_all = false;         // "total sheets": for all copies together
  bool per_panel = false;      // "qty per panel"
  std::optional<Units> units;  // "size (cm)"
  std::string meant;           // the word that a misspelt word was taken for; empty if none was misspelt
};

// Whether misspelt words count.
enum class Slips { refused, forgiven };

// Nothing if no word of the text is known. With slips forgiven, misspelt words are known too.
std::optional<Heading> headingFrom(std::string_view text, Slips slips);

}  // namespace petalproof::tables
