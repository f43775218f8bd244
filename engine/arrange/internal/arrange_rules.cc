#include "engine/arrange/internal/arrange_rules.h"

#include "engine/arrange/internal/arrange_room.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace petalproof::arrange {
namespace {

// The weights of the penalties in this file: by trial, no source.
constexpr float plate_clearance_mm = pair_reach_mm;
constexpr float least_overlap = 0.169F;  // of the smaller bloom's diameter: a little over a sixth
constexpr float most_overlap = 0.315F;   // a little under a third
constexpr float near_gap = 0.2F;         // of the smaller bloom's diameter: blooms this near are neighbours
static_assert(near_gap <= pair_reach - 1.0F);

struct Direction {
  float x;
  float y;
};

// The direction of a leaf's tip (up at turn 0), y down, from a table: the same on every machine.
Direction axisOf(int turn) {
  static constexpr std::array<float, 7> sines{0.0F,       0.25881905F, 0.5F, 0.70710678F,
                                              0.8660254F, 0.96592583F, 1.0F};
  const auto sine = [](int step) {
    step %= turn_steps;
    const float sign = step < 12 ? 1.0F : -1.0F;
    const int half = step % 12;
    return sign * sines[static_cast<std::size_t>(half <= 6 ? half : 12 - half)];
  };
  return {sine(turn), -sine(turn + 6)};
}

// Rewards an overlap of a sixth to a third; penalises touching and deep overlaps, more strictly late in the
// search.
float overlapPenalty(float share, float strictness) {
  if (share <= 0) return 0;
  if (share < least_overlap) {
    const float lacking = 1.0F - share / least_overlap;
    return strictness * (2.0F + 6.0F * lacking) - share / least_overlap;
  }
  if (share < most_overlap) return -1.0F;
  const float over = (share - most_overlap) / 0.1F;
  return -1.0F + strictness * (60.0F * over + 120.0F * over * over);
}

float alikePenalty(const ArrangeKind& a, const ArrangeKind& b, float share) {
  if (share < -near_gap) return 0;
  const float alike = &a == &b ? 1.5F : likeness(a, b);
  if (alike <= 0) return 0;
  const float seen = 0.7F + 1.1F * std::min(a.prominence, b.prominence);  // large blooms catch the eye
  return 20.0F * alike * seen * std::min(1.0F, (share + near_gap) / near_gap);
}

// The penalty of a leaf under a round bloom, by which of five points along the leaf the bloom hides.
float leafPenalty(const ArrangeKind& leaf, const ArrangeSpot& spot, const ArrangeKind& round,
                  const ArrangeSpot& at) {
  const Direction axis = axisOf(spot.turn);
  const float hides = round.radius * 0.9F;
  int hidden = 0;
  bool foot = false;
  bool tip = false;
  for (int k = -2; k <= 2; ++k) {
    const float along = static_cast<float>(k) * 0.22F * leaf.diameter;
    const float dx = spot.x + axis.x * along - at.x;
    const float dy = spot.y + axis.y * along - at.y;
    if (dx * dx + dy * dy > hides * hides) continue;
    ++hidden;
    foot = foot || k == -2;
    tip = tip || k == 2;
  }
  static constexpr std::array<float, 6> penalties{0.0F, 0.0F, 0.3F, 4.0F, 14.0F, 40.0F};
  float penalty = penalties[static_cast<std::size_t>(hidden)];
  if (tip) penalty += 1.0F;
  if (foot && !tip && hidden <= 2) penalty -= 0.8F;  // grows out from under a bloom
  return penalty;
}

float leavesPenalty(const ArrangeKind& a, const ArrangeKind& b, float distance) {
  const float apart = 0.3F * (a.diameter + b.diameter);
  return distance < apart ? 8.0F * (1.0F - distance / apart) : 0.0F;
}

}  // namespace

float plateLack(const ArrangeKind& a, const ArrangeSpot& spot_a, const ArrangeKind& b,
                const ArrangeSpot& spot_b) {
  const float dx = spot_a.x - spot_b.x;
  const float dy = spot_a.y - spot_b.y;
  return a.plate_radius + b.plate_radius + plate_clearance_mm - std::sqrt(dx * dx + dy * dy);
}

float pairPenalty(const ArrangeKind& a, const ArrangeSpot& spot_a, const ArrangeKind& b,
                  const ArrangeSpot& spot_b, float strictness) {
  const float dx = spot_a.x - spot_b.x;
  const float dy = spot_a.y - spot_b.y;
  const float smaller = 2 * std::min(a.radius, b.radius);
  const float reach = std::max(a.radius + b.radius + near_gap * smaller,
                               a.plate_radius + b.plate_radius + plate_clearance_mm);
  const float squared = dx * dx + dy * dy;
  if (squared >= reach * reach) return 0;
  const float distance = std::sqrt(squared);
  const float plates = a.plate_radius + b.plate_radius + plate_clearance_mm;
  float penalty = distance < plates ? 40.0F + 120.0F * (1.0F - distance / plates) : 0.0F;
  if (a.greenery && b.greenery) return penalty + leavesPenalty(a, b, distance);
  if (a.greenery) return penalty + leafPenalty(a, spot_a, b, spot_b);
  if (b.greenery) return penalty + leafPenalty(b, spot_b, a, spot_a);
  const float share = (a.radius + b.radius - distance) / smaller;
  return penalty + overlapPenalty(share, strictness) + alikePenalty(a, b, share);
}

float edgePenalty(const ArrangeKind& kind, const ArrangeSpot& spot, const WallModel& wall,
                  const std::array<float, 4>& outer) {
  const TurnedFootprint& footprint = kind.turns[static_cast<std::size_t>(spot.turn)];
  const float side = std::min(wall.panel_width, wall.panel_height);
  const float allowed = usualOverhang(kind, wall);
  const std::array<float, 4> past{
      footprint.left - wall.panel_width / 2 - spot.x, footprint.top - wall.panel_height / 2 - spot.y,
      footprint.right - wall.panel_width / 2 + spot.x, footprint.bottom - wall.panel_height / 2 + spot.y};
  float penalty = 0;
  for (std::size_t k = 0; k < 4; ++k) {
    const float over = (past[k] - allowed) / side;
    if (outer[k] > 0 && over > 0) penalty += outer[k] * (200.0F * over + 2000.0F * over * over);
  }
  return penalty;
}

bool rowsTogether(const ArrangeKind& a, const ArrangeKind& b) {
  constexpr float like_size = 0.75F;
  constexpr float like_colour = 0.5F;
  if (&a == &b) return true;
  return std::min(a.diameter, b.diameter) > like_size * std::max(a.diameter, b.diameter) &&
         likeness(a, b) > like_colour;
}

float rowPenalty(const ArrangeKind& a, const ArrangeSpot& spot_a, const ArrangeKind& b,
                 const ArrangeSpot& spot_b, const ArrangeKind& c, const ArrangeSpot& spot_c) {
  const auto squared = [](const ArrangeSpot& p, const ArrangeSpot& q) {
    return (p.x - q.x) * (p.x - q.x) + (p.y - q.y) * (p.y - q.y);
  };
  const float ab = squared(spot_a, spot_b);
  const float bc = squared(spot_b, spot_c);
  const float ca = squared(spot_c, spot_a);
  const float longest = std::max({ab, bc, ca, 1.0F});
  const float mean = (a.diameter + b.diameter + c.diameter) / 3;
  if (longest > 9 * mean * mean) return 0;  // nobody sees a row in it
  const float doubled_area =
      std::abs((spot_b.x - spot_a.x) * (spot_c.y - spot_a.y) - (spot_c.x - spot_a.x) * (spot_b.y - spot_a.y));
  const float bend = 0.12F * mean;  // the middle bloom's distance from the line that ends a row
  if (doubled_area * doubled_area >= bend * bend * longest) return 0;
  const float shortest = std::min({ab, bc, ca});
  const float between = std::max(std::min(ab, bc), std::min(std::max(ab, bc), ca));
  const float least = std::min({a.diameter, b.diameter, c.diameter});
  const float most = std::max({a.diameter, b.diameter, c.diameter});
  const bool even = between < 1.45F * shortest && least > 0.75F * most;
  return (even ? 15.0F : 1.5F) * (1.0F - doubled_area / std::sqrt(longest) / bend);
}

}  // namespace petalproof::arrange
