#pragma once
#include "viewer/window/ui.h"

namespace petalproof::window {

// What is known of the chosen shot, in words: what it shows, where its frame runs off the wall, how many fit.
void drawShotWords(const app::State& state, const Ui& ui);

}  // namespace petalproof::window
