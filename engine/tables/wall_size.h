#pragma once
// Finds the panels of a wall whose numbers of columns and rows aren't given: from its size or from its
// blooms' area. planFromTables and `petalproof new` call this.

#include "engine/plan/plan.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace petalproof::tables {

// "24x20", "24 x 20 in", "8' x 8'", "60,50"; a number without a unit is in `units`. Nothing for other text
// and for a side outside 1 mm to 100 m.
std::optional<plan::Size> widthAndHeight(std::string_view text, Units units);

// The panel if none is given: 20 x 16 in, 50 x 40 cm, 500 x 400 mm (common practice, no source).
plan::Size usualPanel(Units units);

struct PanelCount {
  int columns = 0;
  int rows = 0;
};

// The panels nearest to the size asked for, at least 1 x 1; halves round up.
PanelCount panelsNearest(plan::Size asked, plan::Size panel);

// The panels for blooms that cover this area at the usual density, as near to a square as possible.
PanelCount panelsForArea(double area_mm2, plan::Size panel, Units units);

// "5 × 6 panels of 20 × 16 in: 100 × 96 in, 4 in wider than asked; the seams add 1/4 in across and ...".
std::string whatItComesTo(const plan::Wall& wall, std::optional<plan::Size> asked, Units units);

// A grid for a wall whose maker gave none: these layouts in turn (four if `names` is empty), half of them
// upside down.
Grid<plan::Cell> layoutsInTurn(PanelCount count, std::vector<std::string> names);

}  // namespace petalproof::tables
