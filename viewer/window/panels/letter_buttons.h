#pragma once
// The buttons that change the size of the window's letters. The notebook and the start page draw them.

#include "viewer/window/ui.h"

namespace petalproof::window {

// Two buttons side by side: smaller and larger letters.
void letterButtons(const app::State& state, const Ui& ui, app::Actions& actions);

}  // namespace petalproof::window
