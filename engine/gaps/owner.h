#pragma once
// Tells which crossing, seam or panel a bare place of the board plane belongs to. Gaps are split and named by
// it, and the list of fillers says what each hides.

#include "engine/base/frames.h"
#include "engine/scene/scene.h"

#include <string>

namespace petalproof::gaps {

enum class GapKind { crossing, seam, board };

// The part of the wall that a bare pixel belongs to. `column` and `row` are those of the panel, of a seam's
// left or upper panel, or of a crossing's upper left panel.
struct Owner {
  GapKind kind = GapKind::board;
  int column = 0;
  int row = 0;
  bool upright = false;  // a seam between panels side by side
  friend bool operator==(const Owner&, const Owner&) = default;
};

// "B2", "B2|C2", "B2/B3", "B2+C3".
std::string nameOf(const Owner& owner);

// The owner of a bare place: the crossing (of four panels) whose middle is within 25 mm, else the nearest
// seam (the piece of a slit's middle line between its two panels) within 25 mm, else the panel. Ties go to
// the lower row, then column, then the upright seam. In a slit so wide that no middle is near, the owner is
// the seam of that slit; where slits cross, the nearest seam that ends there, or the nearest panel if there
// is none. The rule is the same on covered ground, where only slits are bare.
constexpr double owner_reach_mm = 25.0;
Owner ownerOf(const scene::PanelGrid& panels, BoardPoint bare_place);

}  // namespace petalproof::gaps
