#pragma once
#include "viewer/window/panels/fields.h"
#include "viewer/window/ui.h"

namespace petalproof::window {

// Fillers: placing them, why each is there, what to cut.
class FillersPage {
 public:
  app::Actions draw(const app::State& state, const Ui& ui);

 private:
  void drawSearch(const app::State& state, const Ui& ui, app::Actions& actions);

  int hide_ = 0;
  bool start_over_ = false;
};

}  // namespace petalproof::window
