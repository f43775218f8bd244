#pragma once
#include "viewer/app/action.h"
#include "viewer/app/state.h"
#include "viewer/window/glfw_window.h"

#include <vector>

namespace petalproof::window {

// What these keys ask for. Letters are those that the keys bear, on any keyboard. Nothing while somebody
// types, or a question is open.
app::Actions shortcutActions(const app::State& state, const std::vector<KeyPress>& keys);

}  // namespace petalproof::window
