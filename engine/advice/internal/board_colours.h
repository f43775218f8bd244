#pragma once
// Proposes colours for the boards; adviseOn tries each.

#include "engine/advice/advice.h"

#include <string>
#include <vector>

namespace petalproof::advice {

// The colours of the blooms that hang, those that cover most of the wall first, similar ones once, at most
// eight; then white, black and kraft. Never the board's own.
std::vector<BoardColour> boardColours(const plan::Plan& plan);

// "green", "dark red", "cream": a plain word for a colour, by its hue, saturation and lightness; by eye.
std::string plainColourName(Colour colour);

}  // namespace petalproof::advice
