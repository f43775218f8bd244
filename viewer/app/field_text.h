#pragma once
// What stands in a field for a number.

#include "engine/base/units.h"

#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>

namespace petalproof::app {

// Without its unit, as it is typed: inches with a fraction where they are sixteenths ("7 1/4", "3/16",
// "-1/2"), anything else to a thousandth ("7.321"), centimetres to a hundredth, millimetres to a tenth.
std::string fieldText(Length length, Units units);

// At most so many decimals, no more than it takes: "2.5", "85".
std::string numberText(double value, int decimals);

// A number as people type it: "85", "5,6", "7 1/4", "-1/2"; one of `units` may follow it ("85 mm", "30 deg"),
// or stand before it where it ends in "/" ("f/2.8"). Nothing for any other text.
std::optional<double> numberFromText(std::string_view text, std::initializer_list<std::string_view> units);

// The least that a hand moves a thing by, in that unit: what a tape shows, 1/16 in or 1 mm.
double finestStep(Units units);

}  // namespace petalproof::app
