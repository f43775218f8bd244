#pragma once
#include "viewer/app/action.h"
#include "viewer/app/state.h"

namespace petalproof::window {

// What the keyboard asked for in this frame. Letters are those that the keys bear, on any keyboard.
app::Actions shortcutActions(const app::State& state);

}  // namespace petalproof::window
