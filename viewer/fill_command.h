#pragma once
// petalproof fill PLAN: places fillers, proves them, and says where each goes.

#include "viewer/command.h"

namespace petalproof {

// Adds the command's options to `app` and returns what running it does.
Action setUpFill(CLI::App& app);

}  // namespace petalproof
