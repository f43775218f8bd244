#pragma once
// The shot that the shot's page is changing in a frame. ShotPage makes it; its parts change it and add their
// edits.

#include "viewer/app/action.h"
#include "viewer/window/ui.h"

namespace petalproof::window {

struct ShotWork {
  const app::State& state;
  const Ui& ui;
  plan::Shot shot;  // with the changes of this frame
  app::Actions& actions;
  float width;  // of a field

  // Adds the edit that makes the changed shot. `detail`: for the name of the step: "lens".
  void set(const char* detail, int stroke = 0) {
    actions.emplace_back(app::Edit{app::SetShot{state.shot, shot, detail}, stroke});
  }
};

}  // namespace petalproof::window
