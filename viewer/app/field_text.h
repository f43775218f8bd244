#pragma once
// Numbers and lengths as text in the window's fields: written for display, read as people type them. The
// fields of the panels (viewer/window/panels/fields.h) call these functions.

#include "engine/base/units.h"

#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>

namespace petalproof::app {

// A length without its unit: inches with a fraction where they are whole sixteenths ("7 1/4", "3/16",
// "-1/2"), anything else to a thousandth ("7.321"), centimetres to a hundredth, millimetres to a tenth.
std::string fieldText(Length length, Units units);

// With at most `decimals` decimals, without trailing zeros: "2.5", "85".
std::string numberText(double value, int decimals);

// A number as people type it: "85", "5,6", "7 1/4", "-1/2". A unit of `units` may follow it ("85 mm", "30
// deg"), a unit that ends in "/" may stand before it ("f/2.8"). Nothing for any other text.
std::optional<double> numberFromText(std::string_view text, std::initializer_list<std::string_view> units);

// The smallest step by which a drag moves a thing, in that unit: a tape's division, 1/16 in or 1 mm.
double finestStep(Units units);

}  // namespace petalproof::app
