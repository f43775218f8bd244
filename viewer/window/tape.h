#pragma once
// Tape measures in the plan's unit, along the left and the upper edge of the wall drawing and of the start
// page's sketch.

#include "viewer/window/ui.h"

#include "engine/base/units.h"

#include <string>

namespace petalproof::window {

// The distance between two numbers on a tape, in mm: the shortest of 1, 2, 4, 6, 12 in and so on, or 1, 2, 5,
// 10 cm and so on, that is at least `least_px` long.
double tapeStepMm(double px_per_mm, Units units, double least_px);

// The number on a tape at a length of whole units: "100", without decimals and unit.
std::string numberOnTape(double mm, Units units);

// The width of a tape down the wall's side, at scale 1, on which its numbers have room.
float sideTapeWidth(double length_mm, Units units);

// A tape from 0, at `zero`, to `length_mm`. Only its part within `area`, a band along an edge, is drawn.
struct TapeLine {
  Area area;
  bool across = true;  // false: down
  float zero = 0;      // px, x or y
  double px_per_mm = 1;
  double length_mm = 0;
  Units units = Units::inch;
};
void drawTape(ImDrawList& list, const Ui& ui, const TapeLine& tape);

}  // namespace petalproof::window
