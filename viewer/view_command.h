#pragma once
// petalproof, petalproof PLAN, petalproof view PLAN: the window.

#include "viewer/command.h"

namespace petalproof {

// Adds the command's options to `app` and returns what running it does.
Action setUpView(CLI::App& app);

}  // namespace petalproof
