#pragma once
// Bare walls and flat discs to cover them with, for what is known of such coverings.

#include "engine/base/colour.h"
#include "engine/fill/fill.h"
#include "engine/plan/read_plan.h"

#include <string>
#include <vector>

namespace petalproof::testing {

// One bare panel before a camera far off; discs ("disc", plate 6 mm) hardly before the board. `more`: plan
// text.
plan::LoadedPlan barePanel(double width_mm, double height_mm, double diameter_mm,
                           const std::string& more = "");

// Two panels of covered ground: only the seam between them is bare, `height_mm` long. Discs and camera as
// above.
plan::LoadedPlan bareSeam(double height_mm, double seam_mm, double diameter_mm);

// One panel of white covered board. The discs come in `colours`, first of Plan::blooms; `blooms`: entries of
// its layout, of "great" ones too, flat discs of 1200 mm behind the others.
struct CoveredBoard {
  double width_mm = 0;
  double height_mm = 0;
  double diameter_mm = 0;
  std::vector<Colour> colours;
  std::string blooms;
  Colour great;
};
plan::LoadedPlan discsOnCoveredBoard(const CoveredBoard& board);

// One panel of 300 x 200 mm under a flat cover with a hole of 60 x 60 mm around (210, 150) from the lower
// left, and a slit from there to the left, 120 mm long and so wide. Discs of 100 mm.
plan::LoadedPlan holeWithTail(double tail_mm, const Colour& cover);

// Nothing bare may be seen; by perfect hands.
fill::FillOptions everything();

}  // namespace petalproof::testing
