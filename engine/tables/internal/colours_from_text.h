#pragma once
// Reads the colours that a cell names; the readers of bloom tables and recipes call this.

#include "engine/base/colour.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace petalproof::tables {

struct ColourText {
  std::vector<Colour> colours;
  bool assorted = false;  // the cell asks for several colours without naming them
  std::string guessed;    // the names without an exact value, as written; empty if there are none
};

struct UnknownColour {
  std::string name;
  std::string suggestion;  // ", did you mean ...?" or ""
};

struct ColourReading {
  ColourText text;
  std::vector<UnknownColour> unknown;  // the parts that name no colour
};

// "#b5382a", "coral", "blush / ivory", "dark red and gold", "assorted", "assorted pinks", "gold foil".
ColourReading coloursFromText(std::string_view text);

// The colour named among other words ("Coral rose"); the last if there are several.
std::optional<Colour> colourWithin(std::string_view text);

}  // namespace petalproof::tables
