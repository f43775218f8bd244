#pragma once
// The places an item may take on its panel.

#include "engine/arrange/internal/arrange_kinds.h"
#include "engine/arrange/internal/arrange_spot.h"
#include "engine/arrange/internal/arrange_wall.h"

#include <array>

namespace petalproof::arrange {

// Whole steps from one edge such that the base plate stays on the board and a round bloom hangs past the
// wall's outer edge by no more than is usual.
struct PlateRoom {
  int first = 0;
  int last = 0;
  float middle = 0;  // of the panel, in steps
};

struct PlateRooms {
  PlateRoom across;
  PlateRoom down;
};

// `outer`: which sides of the panel are the wall's, by Side (above 0 where one is).
PlateRooms roomsOf(const ArrangeKind& kind, const WallModel& wall, const std::array<float, 4>& outer,
                   float step);

// How far a bloom may hang past the wall's outer edge, mm: a third of a small one, large ones hardly at all.
float usualOverhang(const ArrangeKind& kind, const WallModel& wall);

// The nearest place within the room, mm from the panel's middle.
float inRoom(const PlateRoom& room, float step, float mm);

// A number in [0, 1) chooses a place.
float anywhere(const PlateRoom& room, float step, double chance);

}  // namespace petalproof::arrange
