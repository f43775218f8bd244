#pragma once
// The places an item may take on its panel.

#include "engine/scene/internal/arrange_kinds.h"
#include "engine/scene/internal/arrange_spot.h"
#include "engine/scene/internal/arrange_wall.h"

namespace petalproof {

// Whole steps from one edge such that the base plate stays on the board.
struct PlateRoom {
  int first = 0;
  int last = 0;
  float middle = 0;  // of the panel, in steps
};

struct PlateRooms {
  PlateRoom across;
  PlateRoom down;
};

PlateRooms roomsOf(const ArrangeKind& kind, const WallModel& wall, float step);

// The nearest place within the room, mm from the panel's middle.
float inRoom(const PlateRoom& room, float step, float mm);

// A number in [0, 1) chooses a place.
float anywhere(const PlateRoom& room, float step, double chance);

}  // namespace petalproof
