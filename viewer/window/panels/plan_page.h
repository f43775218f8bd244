#pragma once
// The notebook's page of the plan as a whole: title and unit, the limits from which a hole shows, how precise
// the hands are, how copies differ. Notebook draws it.

#include "viewer/window/panels/fields.h"
#include "viewer/window/ui.h"

namespace petalproof::window {

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
