#include "engine/arrange/internal/arrange_room.h"

#include <algorithm>
#include <cmath>

namespace petalproof::arrange {
namespace {

// `before`, `after`: how far the axis stays from the two edges.
PlateRoom roomOf(float before, float after, float panel, float step) {
  PlateRoom room;
  room.middle = panel / step / 2;
  room.first = static_cast<int>(std::ceil(before / step - 1e-4F));
  room.last = static_cast<int>(std::floor((panel - after) / step + 1e-4F));
  // A bloom as large as the panel sits in its middle.
  if (room.last < room.first) room.first = room.last = static_cast<int>(room.middle);
  return room;
}

float fromMiddle(const PlateRoom& room, float step, int steps) {
  return (static_cast<float>(steps) - room.middle) * step;
}

}  // namespace

float usualOverhang(const ArrangeKind& kind, const WallModel& wall) {
  const float side = std::min(wall.panel_width, wall.panel_height);
  // Shares of the panel's shorter side, by eye.
  const float small = 0.36F * side;
  const float large = 0.75F * side;
  const float size = kind.greenery ? small : kind.diameter;
  const float fading = std::clamp((large - size) / (large - small), 0.0F, 1.0F);
  return std::min(kind.diameter, small) / 3 * fading + 0.05F * side;
}

PlateRooms roomsOf(const ArrangeKind& kind, const WallModel& wall, const std::array<float, 4>& outer,
                   float step) {
  const float inside = std::max(kind.plate_radius, kind.radius - usualOverhang(kind, wall));
  const auto apart = [&](Side side) {
    return !kind.greenery && outer[static_cast<std::size_t>(side)] > 0 ? inside : kind.plate_radius;
  };
  return {roomOf(apart(Side::left), apart(Side::right), wall.panel_width, step),
          roomOf(apart(Side::top), apart(Side::bottom), wall.panel_height, step)};
}

float inRoom(const PlateRoom& room, float step, float mm) {
  const auto steps = static_cast<int>(std::floor(mm / step + room.middle + 0.5F));
  return fromMiddle(room, step, std::clamp(steps, room.first, room.last));
}

float anywhere(const PlateRoom& room, float step, double chance) {
  const int number = room.last - room.first + 1;
  return fromMiddle(room, step, room.first + static_cast<int>(chance * number));
}

}  // namespace petalproof::arrange
