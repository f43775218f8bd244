#pragma once
// The rules of a good arrangement as penalties: the smaller, the better. A unit is worth one per cent of a
// panel's board left bare. itemPenalty adds them up.

#include "engine/arrange/internal/arrange_kinds.h"
#include "engine/arrange/internal/arrange_spot.h"
#include "engine/arrange/internal/arrange_wall.h"

#include <array>

namespace petalproof::arrange {

// Two blooms farther apart than pair_reach times the sum of their radii plus pair_reach_mm have no pair
// penalty.
constexpr float pair_reach = 1.2F;
constexpr float pair_reach_mm = 3.0F;

// The penalty of two blooms near each other; spots in a common frame. `strictness` weighs overlaps of less
// than a sixth or more than a third; it is below 1 early in the search.
float pairPenalty(const ArrangeKind& a, const ArrangeSpot& spot_a, const ArrangeKind& b,
                  const ArrangeSpot& spot_b, float strictness);

// The room lacking between two base plates, in mm; 0 or less if they are clear of each other.
float plateLack(const ArrangeKind& a, const ArrangeSpot& spot_a, const ArrangeKind& b,
                const ArrangeSpot& spot_b);

// The penalty of a bloom that hangs farther past the wall's outer edge than usual. `outer`: how often each
// side of the layout's panels is an outer edge (WallModel::outer).
float edgePenalty(const ArrangeKind& kind, const ArrangeSpot& spot, const WallModel& wall,
                  const std::array<float, 4>& outer);

// Whether the kinds are of like colour and size: three such blooms in line look like a row even across
// panels.
bool rowsTogether(const ArrangeKind& a, const ArrangeKind& b);

// The penalty of three blooms in a straight row.
float rowPenalty(const ArrangeKind& a, const ArrangeSpot& spot_a, const ArrangeKind& b,
                 const ArrangeSpot& spot_b, const ArrangeKind& c, const ArrangeSpot& spot_c);

}  // namespace petalproof::arrange
