#pragma once
#include "viewer/window/panels/fields.h"
#include "viewer/window/ui.h"

#include <functional>

namespace petalproof::window {

// What is chosen on the wall: place, turn, colour; and the kinds of bloom.
class BloomPage {
 public:
  app::Actions draw(const app::State& state, const Ui& ui);

 private:
  void drawChosen(const app::State& state, const Ui& ui, app::Actions& actions);
  void drawPlace(const app::State& state, const Ui& ui, const Placement& placement, app::Actions& actions);
  void drawColours(const app::State& state, const Ui& ui, const Placement& placement, app::Actions& actions);
  void drawKinds(const app::State& state, const Ui& ui, app::Actions& actions);
  void drawKind(const app::State& state, const Ui& ui, int kind, app::Actions& actions);
  void drawFormOf(const app::State& state, const Ui& ui, Bloom& bloom, const std::function<void()>& change);
  void drawPaperOf(const app::State& state, const Ui& ui, Bloom& bloom, const std::function<void()>& change);
  void drawColoursOf(const Ui& ui, Bloom& bloom, const std::function<void()>& change);

  Fields fields_;
  Sliders sliders_;
  int open_kind_ = -1;
  int colour_stroke_ = 0;
};

}  // namespace petalproof::window
