#pragma once
#include "viewer/window/ui.h"

namespace petalproof::window {

// The chosen shot's gaps, worst first, with what each class of them comes to.
app::Actions drawGapsPage(const app::State& state, const Ui& ui);

}  // namespace petalproof::window
