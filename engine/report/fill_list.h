#pragma once
// Tells a filling in words and columns: for a terminal, and to take along on the day. The command `fill`
// prints it.

#include "engine/fill/fill.h"
#include "engine/report/fill_json.h"

#include <string>

namespace petalproof::report {

// How many fillers and what they do in each shot; which first if there is little time; each filler with its
// place on its panel as with a tape, in the order of hanging; what to cut; what is left and why. Lengths in
// the plan's unit; lines of at most 100 characters where the plan's own names allow it.
std::string fillList(const FilledWall& wall);

}  // namespace petalproof::report
