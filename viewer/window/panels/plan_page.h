#pragma once
#include "viewer/window/panels/fields.h"
#include "viewer/window/ui.h"

namespace petalproof::window {

// The plan as a whole: its title and unit, how copies differ, how sure the hands are, from when a gap shows.
class PlanPage {
 public:
  app::Actions draw(const app::State& state, const Ui& ui);

 private:
  void drawCopies(const app::State& state, const Ui& ui, app::Actions& actions);
  void drawReading(const app::State& state, const Ui& ui, app::Actions& actions);
  void drawHands(const app::State& state, const Ui& ui, app::Actions& actions);

  Fields fields_;
};

}  // namespace petalproof::window
