#pragma once
// How much of a gap may stay and nobody notices.

#include "engine/base/frames.h"
#include "engine/check/shot_sight.h"
#include "engine/plan/plan.h"

#include <cstddef>
#include <optional>
#include <vector>

namespace petalproof::check {

// How wide a strip of the same board may stay where a hole is and read as no more than `at_most`, in mm: the
// hole's own difference, scaled by what the eye's and the lens's blur leave of a strip and of the hole, and
// as odd as the hole would be with that difference and size. A hole that reads so itself: the gap's whole
// width, or more. 0 where there is no reading.
double widestLostStrip_mm(const ShotCheck& shot, std::size_t gap, reading::Reads at_most,
                          const plan::ReadingThresholds& thresholds);

constexpr double speck_mm = 1;  // what is narrower is none

struct NearestGap {
  std::size_t gap = 0;
  double distance_mm = 0;  // from its rim or its middle
};

// The gaps of a shot, to find the nearest to a place quickly. Refers to them; they must outlive it.
class NearbyGaps {
 public:
  explicit NearbyGaps(const std::vector<gaps::Gap>& gaps);
  // None where there is none within `reach_mm`.
  std::optional<NearestGap> nearest(glm::dvec2 place, double reach_mm) const;

 private:
  const std::vector<gaps::Gap>* gaps_;
  std::vector<BoardRect> bounds_;
};

// Tells from the readings of a plan's own gaps whether another gap would be noticed, one that is left when
// some of them is hidden or that turns up beside them. Quick, and good enough to choose by; what proves is
// the reading itself.
class LostStrips {
 public:
  // Refers to `shots`, checked with readings, which must outlive it. `doubt`: by how much a gap may differ
  // more than is told from another; above 1 to be on the safe side.
  LostStrips(const std::vector<ShotCheck>& shots, reading::Reads at_most,
             const plan::ReadingThresholds& thresholds, double doubt = 1);
  // A gap that the camera of shots[shot] sees, by the hole of the nearest one of the plan: as bare places get
  // smaller they differ less and are less odd. True where there is none near to tell by.
  bool wouldBeNoticed(std::size_t shot, const gaps::GapsOfShot& seen, const gaps::Gap& gap) const;
  // How wide a strip may be there.
  double mayStay_mm(std::size_t shot, const gaps::Gap& gap) const;
  const NearbyGaps& planned(std::size_t shot) const { return shots_[shot].gaps; }

 private:
  struct OfShot {
    const ShotCheck* shot;
    NearbyGaps gaps;
    std::vector<double> widths_mm;
  };
  std::vector<OfShot> shots_;
  reading::Reads at_most_;
  plan::ReadingThresholds thresholds_;
  double doubt_;
};

}  // namespace petalproof::check
