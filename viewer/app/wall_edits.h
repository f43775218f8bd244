#pragma once
// Edits of layouts, cells and the wall: the values that panels hand to edited() (plan_edit.h).

#include "engine/plan/plan.h"
#include "viewer/app/references.h"

#include <string>

namespace petalproof::app {

struct OwnLayout {  // gives the panel a copy of its layout that no other cell uses
  CellRef cell;
};
struct SetCell {
  CellRef cell;
  plan::Cell to;
};
struct SwapCells {
  CellRef first;
  CellRef second;
};
struct TurnOver {  // hangs the panel upside down, or right way up again
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

// Edits of the wall's size keep the blooms: new cells repeat the grid's pattern, blooms beyond the edge of a
// smaller panel move onto the edge, fillers keep their places on their panels.
struct ResizeWall {
  int columns = 1;
  int rows = 1;
};
struct ResizePanel {
  plan::Size panel;
};
// Sets everything except grid, columns, rows and panel.
struct SetWallDetails {
  plan::Wall wall;
  std::string detail;  // for the name of the step: "board colour"
};

}  // namespace petalproof::app
