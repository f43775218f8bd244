#pragma once
// How much of a gap may stay and nobody notices.

#include "engine/check/shot_sight.h"
#include "engine/plan/plan.h"

#include <cstddef>
#include <optional>
#include <vector>

namespace petalproof {

// How wide a strip of the same board may stay where a gap is and read as no more than `at_most`, in mm: the
// gap's own difference, scaled by what the eye's and the lens's blur leave of a strip and of the gap. A gap
// that reads so itself: its whole width, or more. 0 where there is no reading.
double widestLostStrip_mm(const ShotCheck& shot, std::size_t gap, Reads at_most,
                          const ReadingThresholds& thresholds);

constexpr double speck_mm = 1;  // what is narrower is none

struct NearestGap {
  std::size_t gap = 0;
  double distance_mm = 0;  // from its rim or its middle
};
// The nearest of a shot's gaps to the middle of another; none where there is none.
std::optional<NearestGap> nearestGap(const std::vector<Gap>& gaps, const Gap& to);

// Tells from the readings of a plan's own gaps whether another gap would be noticed, one that is left when
// some of them is hidden or that turns up beside them: where it is wider than a strip may be that is lost
// there. Quick, and good enough to choose by; what proves is the reading itself.
class LostStrips {
 public:
  // Refers to `shots`, checked with readings, which must outlive it.
  LostStrips(const std::vector<ShotCheck>& shots, Reads at_most, const ReadingThresholds& thresholds);
  // A gap that the camera of shots[shot] sees.
  bool wouldBeNoticed(std::size_t shot, const Gap& gap) const;
  // How wide a strip may be there.
  double mayStay_mm(std::size_t shot, const Gap& gap) const;

 private:
  const std::vector<ShotCheck>& shots_;
  std::vector<std::vector<double>> widths_mm_;  // by shot, then gap
};

}  // namespace petalproof
