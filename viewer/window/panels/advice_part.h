#pragma once
#include "viewer/window/ui.h"

namespace petalproof::window {

// What would help the chosen shot, each piece of advice with a button that tries it.
void drawAdvice(const app::State& state, const Ui& ui, app::Actions& actions);

}  // namespace petalproof::window
