#pragma once
// The keyboard shortcuts of the window. Screen calls it with the keys of each frame.

#include "viewer/app/action.h"
#include "viewer/app/state.h"
#include "viewer/window/glfw_window.h"

#include <vector>

namespace petalproof::window {

// The actions of pressed keys. Letters are those on the keys, whatever the keyboard's layout. None while the
// person types or a question is open.
app::Actions shortcutActions(const app::State& state, const std::vector<KeyPress>& keys);

}  // namespace petalproof::window
