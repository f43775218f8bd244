#pragma once
// The check in words and columns, for a terminal.

#include "engine/check/check.h"
#include "engine/plan/read_plan.h"

#include <string>

namespace petalproof {

// Every shot with its frame and its spots, worst first, then what comes up most often over all shots. Lengths
// in the plan's unit; lines of at most 100 characters where the plan's own names allow it.
std::string checkTable(const Check& check, const LoadedPlan& loaded, const Scene& scene);

}  // namespace petalproof
