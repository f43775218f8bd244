#pragma once
// Which bare places the lower bound `at_least` counts: those that the answer hides. FillWork asks it.
//
// A place counts if it had to be hidden from a shot (must_hide.h: in the middle of a gap that read in the
// plan as given) and a filler of the answer hides it. A place that the search gave up doesn't count,
// whether its gap is left or reads as lost in the end.
//
// A filler deals with a place if it hides any point within some distance of it. A pixel is bare where its
// centre is, so that is half a pixel's footprint; and where readings decide, half a spot more, since what
// nobody notices may stay: a spot as wide as the strip that may stay in that gap (lostRim_mm), and no less
// than a speck, 1 mm or a pixel.
//
// So whoever leaves no spot about any of these places all bare, needs `at_least` fillers or more, wherever
// they lie on the board. The answer does so, and `at_least` is never above its count.

#include "engine/candidates/must_hide.h"
#include "engine/candidates/silhouette.h"
#include "engine/check/shot_sight.h"
#include "engine/fill/placed.h"

#include <glm/mat3x3.hpp>
#include <glm/vec2.hpp>

#include <cstdint>
#include <optional>
#include <vector>

namespace petalproof::fill {

class HiddenByAnswer {
 public:
  // `first`: what had to be hidden, as found in `before`, the shots of the plan as given. Refers to the
  // shots.
  HiddenByAnswer(const Filling& filling, const candidates::MustHide& first,
                 const std::vector<check::ShotCheck>& before,
                 const std::vector<candidates::Candidate>& chosen);

  // Of a place that must be hidden from first.eyes[eye]: the distance, in mm; nothing where it doesn't count.
  std::optional<double> howNear(std::uint32_t eye, glm::dvec2 place) const;

 private:
  struct RunOfGap {
    gaps::Run run;
    std::size_t gap = 0;
  };
  struct Shot {
    const check::ShotCheck* check;
    glm::dmat3 pixel_from_board{1};
    std::vector<RunOfGap> runs;    // of gaps that had to be hidden, from the top, then from the left
    std::vector<double> spots_mm;  // by gap
  };
  struct OfEye {
    std::vector<candidates::Silhouette> fillers;  // of the answer
    std::vector<std::size_t> shots;               // taken from there
  };
  static Shot shotOf(const Filling& filling, const check::ShotCheck& check);
  static const RunOfGap* gapAt(const Shot& shot, glm::dvec2 pixel);
  std::optional<double> howNearIn(const Shot& shot, glm::dvec2 place) const;
  bool isHidden(const OfEye& eye, glm::dvec2 place) const;

  bool all_;  // must be hidden, whatever reads
  std::vector<Shot> shots_;
  std::vector<OfEye> eyes_;
};

}  // namespace petalproof::fill
