#pragma once
// What stands in a field for a number.

#include "engine/base/units.h"

#include <string>

namespace petalproof::app {

// Without its unit, as it is typed: inches with a fraction where they are sixteenths ("7 1/4", "3/16",
// "-1/2"), anything else to a thousandth ("7.321"), centimetres to a hundredth, millimetres to a tenth.
std::string fieldText(Length length, Units units);

// At most so many decimals, no more than it takes: "2.5", "85".
std::string numberText(double value, int decimals);

// The least that a hand moves a thing by, in that unit: what a tape shows, 1/16 in or 1 mm.
double finestStep(Units units);

}  // namespace petalproof::app
