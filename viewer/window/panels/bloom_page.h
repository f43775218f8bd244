#pragma once
// The notebook's page of blooms: the chosen blooms (place, turn, colour) and the kinds of bloom. Notebook
// draws it.

#include "viewer/window/panels/fields.h"
#include "viewer/window/panels/kind_part.h"
#include "viewer/window/ui.h"

namespace petalproof::window {

class BloomPage {
 public:
  app::Actions draw(const app::State& state, const Ui& ui);

 private:
  void drawChosen(const app::State& state, const Ui& ui, app::Actions& actions);
  void drawPlace(const app::State& state, const Ui& ui, const plan::Placement& placement,
                 app::Actions& actions);
  void drawColours(const app::State& state, const Ui& ui, const plan::Placement& placement,
                   app::Actions& actions);
  void drawKinds(const app::State& state, const Ui& ui, app::Actions& actions);

  Fields fields_;
  KindPart kind_;
  int open_kind_ = -1;
};

}  // namespace petalproof::window
