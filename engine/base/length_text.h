#pragma once
// Lengths as text. Readers of plans, tables and input fields call lengthFromText; messages, lists and
// drawings for people call the others.

#include "engine/base/units.h"

#include <optional>
#include <string>
#include <string_view>

namespace petalproof {

// Reads "7 1/4", "7-1/4", "7.25", "8 ft 4 in", "8'4\"", "60 cm", "17\"", "3/8 in", "1.2 m", decimal
// commas too ("43,5 cm"). A number without a unit is in `units`. Surrounding space, case and typographic
// quote marks don't matter; "-" before the first number makes it negative. The result is in
// `units`. Nothing for any other text, or where a denominator is 0.
std::optional<Length> lengthFromText(std::string_view text, Units units);

// A length for a maker with a tape: inches as a whole number and a fraction in eighths ("7 1/4 in", "3/8 in",
// "0 in"; from 10 ft up still inches), centimetres to one decimal ("18.4 cm"), millimetres to whole numbers.
// A length that isn't 0 but rounds to 0 is written "under 1/8 in", "under 1 mm", "under 0.1 cm".
std::string tapeText(double length_mm, Units units);
// Like tapeText without the unit's name, for columns of a table and for pairs of lengths.
std::string tapeNumber(double length_mm, Units units);
std::string_view unitName(Units units);  // "in", "cm", "mm"

// A distance a person stands or walks: in inches units as feet and inches ("12 ft 6 in", to half an inch
// under 3 ft, whole inches beyond), in centimetres or millimetres as metres ("3.81 m").
std::string walkText(double length_mm, Units units);

}  // namespace petalproof
