#pragma once
// How many panels a wall has, where that isn't said outright.

#include "engine/plan/plan.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace petalproof::tables {

// "24x20", "24 x 20 in", "8' x 8'", "60,50"; a number without a unit is in `units`. Nothing for other text,
// and where a side isn't from 1 mm to 100 m.
std::optional<plan::Size> widthAndHeight(std::string_view text, Units units);

// The panel where none is given: 20 x 16 in, 50 x 40 cm, 500 x 400 mm (common practice, no source).
plan::Size usualPanel(Units units);

struct PanelCount {
  int columns = 0;
  int rows = 0;
};

// The nearest to the size asked for, at least one; halves go up.
PanelCount panelsNearest(plan::Size asked, plan::Size panel);

// For blooms that cover this area, at the usual density, in a shape near a square.
PanelCount panelsForArea(double area_mm2, plan::Size panel, Units units);

// "5 × 6 panels of 20 × 16 in: 100 × 96 in, 4 in wider than asked; the seams add 1/4 in across and ...".
std::string whatItComesTo(const plan::Wall& wall, std::optional<plan::Size> asked, Units units);

// Layouts for a wall whose maker hasn't drawn one: up to four in turn, half of them upside down.
Grid<plan::Cell> layoutsInTurn(PanelCount count, std::vector<std::string> names);

}  // namespace petalproof::tables
