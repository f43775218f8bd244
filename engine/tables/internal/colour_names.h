#pragma once
// Colours by the names people give them.

#include "engine/base/colour.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace petalproof::tables {

// By the names of CSS (W3C, CSS Color Module Level 4, 6.1 Named Colors), in any case, with or without
// spaces, grey as gray.
std::optional<Colour> cssColour(std::string_view name);

// By the usual names of coloured card; values of our own, by eye.
std::optional<Colour> cardColour(std::string_view name);

std::vector<std::string> knownColourNames();

struct ColourText {
  std::vector<Colour> colours;
  bool assorted = false;  // several that the cell doesn't name
  std::string guessed;    // the names that have no exact value, as written; empty: none
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

// A colour that the words name on the way ("Coral rose"), the last of them.
std::optional<Colour> colourWithin(std::string_view text);

// What "assorted" takes where nothing better is known, and the colour of what has none.
std::vector<Colour> usualPalette();
Colour usualGreen();

}  // namespace petalproof::tables
