#pragma once
// Tables of colour names: those of CSS, those of coloured card, and the usual colours of blooms without any.

#include "engine/base/colour.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace petalproof::tables {

// The colour of a CSS name (W3C, CSS Color Module Level 4, 6.1 Named Colors), in any case, with or without
// spaces, grey as gray.
std::optional<Colour> cssColour(std::string_view name);

// The colour of a usual name of coloured card; values by eye, no source.
std::optional<Colour> cardColour(std::string_view name);

std::vector<std::string> knownColourNames();

// The colours for "assorted" and for blooms without a colour; the colour of greenery without one. By eye, no
// source.
std::vector<Colour> usualPalette();
Colour usualGreen();

}  // namespace petalproof::tables
