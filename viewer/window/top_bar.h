#pragma once
// The bar along the window's upper edge, and the view's choices in its lower right corner. Screen draws them.

#include "viewer/window/ui.h"

namespace petalproof::window {

// The plan's name, the three views, Undo and Redo, Save, and the progress of the check.
app::Actions drawTopBar(const app::State& state, const Ui& ui, const Area& area);

// Words that turn parts of the view on and off (marks, people, blur), at the lower right of `area`.
app::Actions drawViewChoices(const app::State& state, const Ui& ui, const Area& area);

}  // namespace petalproof::window
