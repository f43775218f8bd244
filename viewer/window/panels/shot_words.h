#pragma once
// The words of the shot's page about the checked picture. ShotPage draws them.

#include "viewer/window/ui.h"

namespace petalproof::window {

// The shares of blooms and board in the picture, where the frame runs off the wall, how many people have
// room.
void drawShotWords(const app::State& state, const Ui& ui);

}  // namespace petalproof::window
