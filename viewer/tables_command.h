#pragma once
// petalproof tables PLAN: the two tables back, for a spreadsheet.

#include "viewer/command.h"

namespace petalproof {

// Adds the command's options to `app` and returns what running it does.
Action setUpTables(CLI::App& app);

}  // namespace petalproof
