#pragma once
// The wall's units, outline and height above the floor: all that a shot's positions are measured from.
// Callers take a WallFrame from the plan once and pass it to makeCamera() and the framing functions.

#include "engine/base/units.h"
#include "engine/plan/plan.h"

namespace petalproof::camera {

struct WallFrame {
  Units units = Units::inch;
  double width_mm = 0;  // of the outline, as is the height
  double height_mm = 0;
  double above_floor_mm = 0;
};
WallFrame wallFrameOf(const plan::Plan& plan);

}  // namespace petalproof::camera
