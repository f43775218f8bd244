#pragma once
#include "viewer/window/ui.h"

namespace petalproof::window {

// The sheet with the widgets, right of the wall: the chosen shot's gaps; without a plan, where to start.
app::Actions drawNotes(const app::State& state, const Ui& ui, const Area& area);

}  // namespace petalproof::window
