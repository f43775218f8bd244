#pragma once
// The notebook's page of fillers: places them, says why each hangs there, which gaps stay, and what to cut.
// Notebook draws it.

#include "viewer/window/panels/fields.h"
#include "viewer/window/ui.h"

namespace petalproof::window {

class FillersPage {
 public:
  app::Actions draw(const app::State& state, const Ui& ui);

 private:
  void drawSearch(const app::State& state, const Ui& ui, app::Actions& actions);

  int hide_ = 0;  // an index into the choices of holes to hide
  bool start_over_ = false;
};

}  // namespace petalproof::window
