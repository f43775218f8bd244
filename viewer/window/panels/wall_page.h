#pragma once
// The notebook's page of the wall: the number and size of its panels, the layout in each cell, the board, the
// room. Notebook draws it.

#include "viewer/window/panels/fields.h"
#include "viewer/window/ui.h"

namespace petalproof::window {

class WallPage {
 public:
  app::Actions draw(const app::State& state, const Ui& ui);

 private:
  void drawSize(const app::State& state, const Ui& ui, app::Actions& actions);
  void drawGrid(const app::State& state, const Ui& ui, app::Actions& actions);
  void drawCell(const app::State& state, const Ui& ui, app::CellRef cell, ImVec2 size, app::Actions& actions);
  void drawChosen(const app::State& state, const Ui& ui, app::Actions& actions);
  void drawBoard(const app::State& state, const Ui& ui, app::Actions& actions);
  void drawRoom(const app::State& state, const Ui& ui, app::Actions& actions);

  Fields fields_;
  ColourFields colours_;
};

}  // namespace petalproof::window
