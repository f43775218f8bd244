#pragma once
// Changes to layouts, cells and the wall (plan_edit.h).

#include "engine/plan/plan.h"
#include "viewer/app/references.h"

#include <string>

namespace petalproof::app {

// Layouts and cells.
struct OwnLayout {  // the panel gets a layout that no other cell uses
  CellRef cell;
};
struct SetCell {
  CellRef cell;
  plan::Cell to;
};
struct SwapCells {
  CellRef one;
  CellRef other;
};
struct TurnOver {  // upside down, or back
  CellRef cell;
};
struct AddLayout {
  std::string name;
};
struct RenameLayout {
  int layout = 0;
  std::string name;
};
struct DeleteLayout {  // refused while a cell uses it
  int layout = 0;
};

// The wall. Blooms are kept: new cells go on with the grid's pattern, a bloom beyond a smaller panel's edge
// moves onto that edge, fillers stay at their place of their panel.
struct ResizeWall {
  int columns = 1;
  int rows = 1;
};
struct ResizePanel {
  plan::Size panel;
};
// All but grid, columns, rows and panel.
struct SetWallDetails {
  plan::Wall wall;
  std::string what;  // for the name of the step: "board colour"
};

}  // namespace petalproof::app
