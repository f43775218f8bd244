#pragma once
// Tape measures along the left and the upper edge of the wall drawing, in the plan's unit.

#include "viewer/window/ui.h"

#include "engine/base/units.h"

#include <string>

namespace petalproof::window {

// The distance between two numbers on a tape, in mm, so that they stand at least `least_px` apart:
// 1, 2, 4, 6, 12 in and on; 1, 2, 5, 10 cm and on.
double tapeStepMm(double px_per_mm, Units units, double least_px);

// What stands at such a number of whole units, as on a tape: "100", without decimals or the unit.
std::string numberOnTape(double mm, Units units);

// How wide a tape down the wall's side has to be, at scale 1, for its numbers to lie across it.
float sideTapeWidth(double length_mm, Units units);

// A millimetre of the tape is `px_per_mm` long; its 0 is at `zero`, its end `length_mm` from there. Drawn
// where it lies in `area`, a band along an edge.
struct TapeLine {
  Area area;
  bool across = true;  // else down
  float zero = 0;      // px, x or y
  double px_per_mm = 1;
  double length_mm = 0;
  Units units = Units::inch;
};
void drawTape(ImDrawList& list, const Ui& ui, const TapeLine& tape);

}  // namespace petalproof::window
