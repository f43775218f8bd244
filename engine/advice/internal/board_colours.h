#pragma once
// The colours that boards might be covered in.

#include "engine/advice/advice.h"

#include <string>
#include <vector>

namespace petalproof::advice {

// Those of the blooms that hang, what covers most of the wall first, alike ones once, at most eight; then
// white, black and kraft. Not the board's own.
std::vector<BoardColour> boardColours(const plan::Plan& plan);

// "green", "dark red", "cream": a plain word for a colour, by its hue, saturation and lightness; by eye.
std::string plainColourName(Colour colour);

}  // namespace petalproof::advice
