#pragma once
#include "viewer/window/ui.h"

namespace petalproof::window {

// Two buttons beside each other: smaller and larger letters, in all of the window.
void letterButtons(const app::State& state, const Ui& ui, app::Actions& actions);

}  // namespace petalproof::window
