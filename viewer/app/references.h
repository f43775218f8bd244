#pragma once
// References to blooms, fillers, cells and gaps, as a person picks them in the window. Selections, actions
// and edits hold them.

#include <optional>
#include <string>
#include <vector>

namespace petalproof::app {

// A cell of the wall's grid, counted from 0, A1 being (0, 0).
struct CellRef {
  int column = 0;
  int row = 0;
  friend bool operator==(const CellRef&, const CellRef&) = default;
};

// A bloom as it was picked on the wall: the three numbers of BloomInstance. Column -1, no panel: a filler.
// A bloom of a layout that hangs in several cells has a reference for each cell; all mean the same placement.
struct BloomRef {
  int column = -1;
  int row = -1;
  int index = 0;  // in the layout of that cell, or in Plan::fillers
  bool isFiller() const { return column < 0; }
  CellRef cell() const { return {column, row}; }
  friend bool operator==(const BloomRef&, const BloomRef&) = default;
};

struct Selection {
  std::vector<BloomRef> blooms;  // and fillers, in the order of picking
  std::vector<CellRef> cells;
  bool empty() const { return blooms.empty() && cells.empty(); }
  friend bool operator==(const Selection&, const Selection&) = default;
};

// A hole of a shot; `number` as of its Hole. Of the check that State::live holds.
struct GapRef {
  int shot = 0;
  int number = 0;
  friend bool operator==(const GapRef&, const GapRef&) = default;
};

}  // namespace petalproof::app
