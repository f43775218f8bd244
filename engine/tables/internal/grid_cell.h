#pragma once
// Reads the text of a cell of a grid table: a layout's name, maybe upside down, or no panel.

#include "engine/plan/plan.h"

#include <string_view>

namespace petalproof::tables {

struct GridCellText {
  plan::Cell cell;         // `layout` as written
  bool shortened = false;  // the cell has other words for "upside down"
};

// Reads "sun", "Sun (upside down)", "sun u/d", "sun 180", "-".
GridCellText gridCellFrom(std::string_view text);

}  // namespace petalproof::tables
