#pragma once
// The part of the shot's page that asks for advice (engine/advice) and lists it. ShotPage draws it.

#include "viewer/window/ui.h"

namespace petalproof::window {

// Each piece of advice has a button that tries it.
void drawAdvice(const app::State& state, const Ui& ui, app::Actions& actions);

}  // namespace petalproof::window
