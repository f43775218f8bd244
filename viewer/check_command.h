#pragma once
// petalproof check PLAN: the main job on a command line.

#include "viewer/command.h"

namespace petalproof {

// Adds the command's options to `app` and returns what running it does.
Action setUpCheck(CLI::App& app);

}  // namespace petalproof
