#include "engine/scene/internal/arrange_room.h"

#include <algorithm>
#include <cmath>

namespace petalproof {
namespace {

PlateRoom roomOf(float plate_radius, float panel, float step) {
  PlateRoom room;
  room.middle = panel / step / 2;
  room.first = static_cast<int>(std::ceil(plate_radius / step - 1e-4F));
  room.last = static_cast<int>(std::floor((panel - plate_radius) / step + 1e-4F));
  // A plate as large as the panel sits in its middle.
  if (room.last < room.first) room.first = room.last = static_cast<int>(room.middle);
  return room;
}

float fromMiddle(const PlateRoom& room, float step, int steps) {
  return (static_cast<float>(steps) - room.middle) * step;
}

}  // namespace

PlateRooms roomsOf(const ArrangeKind& kind, const WallModel& wall, float step) {
  return {roomOf(kind.plate_radius, wall.panel_width, step),
          roomOf(kind.plate_radius, wall.panel_height, step)};
}

float inRoom(const PlateRoom& room, float step, float mm) {
  const auto steps = static_cast<int>(std::floor(mm / step + room.middle + 0.5F));
  return fromMiddle(room, step, std::clamp(steps, room.first, room.last));
}

float anywhere(const PlateRoom& room, float step, double chance) {
  const int number = room.last - room.first + 1;
  return fromMiddle(room, step, room.first + static_cast<int>(chance * number));
}

}  // namespace petalproof
