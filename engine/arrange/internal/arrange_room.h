#pragma once
// The places that an item may take on its panel; the search proposes only these.

#include "engine/arrange/internal/arrange_kinds.h"
#include "engine/arrange/internal/arrange_spot.h"
#include "engine/arrange/internal/arrange_wall.h"

#include <array>

namespace petalproof::arrange {

// The range of places along a direction, in whole steps from the panel's edge: the base plate stays on the
// board, and round blooms hang past the wall's outer edge no farther than usual.
struct PlateRoom {
  int first = 0;
  int last = 0;
  float middle = 0;  // of the panel, in steps
};

struct PlateRooms {
  PlateRoom across;
  PlateRoom down;
};

// `outer`: by Side, above 0 if that side of the layout's panels is an outer edge of the wall.
PlateRooms roomsOf(const ArrangeKind& kind, const WallModel& wall, const std::array<float, 4>& outer,
                   float step);

// How far a bloom may hang past the wall's outer edge, in mm: a third of a small bloom, hardly any of a large
// bloom.
float usualOverhang(const ArrangeKind& kind, const WallModel& wall);

// The place within the room nearest to `mm`; both in mm from the panel's middle.
float inRoom(const PlateRoom& room, float step, float mm);

// The place that `chance`, a number in [0, 1), chooses.
float anywhere(const PlateRoom& room, float step, double chance);

}  // namespace petalproof::arrange
