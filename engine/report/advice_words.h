#pragma once
// What would help, in the words of the table.

#include "engine/advice/advice.h"

#include <string>

namespace petalproof::report {

// The lines under the table: for each shot in which holes show one change, and the best few colours for the
// boards. Lengths in the plan's unit.
std::string adviceLines(const advice::Advice& advice, Units units);

// "with everybody and the camera 2 ft farther from the wall: the people 6 ft, the camera 15 ft 9 in from it".
std::string changeWords(const advice::ShotChange& change, Units units);

}  // namespace petalproof::report
