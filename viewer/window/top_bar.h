#pragma once
#include "viewer/window/ui.h"

namespace petalproof::window {

// The plan's name, the three views, what can be undone, and how far the check has come.
app::Actions drawTopBar(const app::State& state, const Ui& ui, const Area& area);

// What the view shows, as words to be turned on and off, along the lower right of it.
app::Actions drawViewChoices(const app::State& state, const Ui& ui, const Area& area);

}  // namespace petalproof::window
