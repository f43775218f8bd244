#pragma once
// What a maker would and wouldn't do, as penalties; small for the better. One unit is one per cent of a
// panel's board left bare.

#include "engine/arrange/internal/arrange_kinds.h"
#include "engine/arrange/internal/arrange_spot.h"
#include "engine/arrange/internal/arrange_wall.h"

#include <array>

namespace petalproof::arrange {

// Farther apart than this many times the sum of their radii, and so much, two blooms don't concern each
// other.
constexpr float pair_reach = 1.2F;
constexpr float pair_reach_mm = 3.0F;

// Two blooms near each other; places in one frame. `strictness`: how much overlapping by less than a sixth or
// more than a third counts; below 1 while blooms still find their places.
float pairPenalty(const ArrangeKind& a, const ArrangeSpot& spot_a, const ArrangeKind& b,
                  const ArrangeSpot& spot_b, float strictness);

// How much room is lacking between two base plates, mm; 0 and less: they are clear.
float plateLack(const ArrangeKind& a, const ArrangeSpot& spot_a, const ArrangeKind& b,
                const ArrangeSpot& spot_b);

// Hanging farther past the wall's outer edge than usual, on the panels of a layout whose sides are outer ones
// so often.
float edgePenalty(const ArrangeKind& kind, const ArrangeSpot& spot, const WallModel& wall,
                  const std::array<float, 4>& outer);

// Of one colour and about one size: three of them in line are seen as a row also from panel to panel.
bool rowsTogether(const ArrangeKind& a, const ArrangeKind& b);

// Three blooms in a straight row.
float rowPenalty(const ArrangeKind& a, const ArrangeSpot& spot_a, const ArrangeKind& b,
                 const ArrangeSpot& spot_b, const ArrangeKind& c, const ArrangeSpot& spot_c);

}  // namespace petalproof::arrange
