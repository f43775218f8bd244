#pragma once
// What would help, in the words of the table.

#include "engine/check/advice.h"

#include <string>

namespace petalproof {

// The lines under the table: for each shot in which gaps show one change, and the best few colours for the
// boards. Lengths in the plan's unit.
std::string adviceLines(const Advice& advice, Units units);

// "with everybody and the camera 2 ft farther from the wall: the people 6 ft, the camera 15 ft 9 in from it".
std::string changeWords(const ShotChange& change, Units units);

}  // namespace petalproof
