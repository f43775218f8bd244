#pragma once
// Draws tape measures along the left and the upper edge of a picture that holds exactly the wall.

#include "engine/base/units.h"
#include "engine/report/internal/drawing.h"

namespace petalproof::report {

// The distance between two numbers on a tape that is `px_per_mm` fine, so that they stand at least
// `least_px` apart: 1, 2, 4, 6 or 12 in and on; 1, 2, 5, 10 cm and on.
double tapeStepMm(double px_per_mm, Units units, double least_px = 60);

constexpr int tape_room_px = 64;  // beside the picture, for the tapes and their numbers

// `picture`: where the wall is on the drawing; its left and upper edge are 0 on the tapes.
void drawTapes(Drawing& drawing, const PixelRect& picture, glm::dvec2 wall_mm, Units units);

}  // namespace petalproof::report
