#pragma once
// How much of a gap may stay and nobody notices.

#include "engine/check/shot_sight.h"
#include "engine/plan/plan.h"

#include <cstddef>

namespace petalproof {

// How wide a strip of the same board may stay where a gap is and read as no more than `at_most`, in mm: the
// gap's own difference, scaled by what the eye's and the lens's blur leave of a strip and of the gap. A gap
// that reads so itself: its whole width, or more. 0 where there is no reading.
double widestLostStrip_mm(const ShotCheck& shot, std::size_t gap, Reads at_most,
                          const ReadingThresholds& thresholds);

}  // namespace petalproof
