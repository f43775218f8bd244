#pragma once
// petalproof new FILE: a commented plan to start from, or a first plan from a maker's tables.

#include "viewer/command.h"

namespace petalproof {

// Adds the command's options to `app` and returns what running it does.
Action setUpNew(CLI::App& app);

}  // namespace petalproof
