#pragma once
// Writes a Plan as the text of a plan file. The viewer saves changed plans, and tables their first plan,
// through it.

#include "engine/plan/plan.h"

#include <string>

namespace petalproof::plan {

// The plan as TOML in the order of assets/manual/plan-file.md; numbers in their shortest
// form, defaults left out. Reading it gives an equal plan.
std::string writePlan(const Plan& plan);

}  // namespace petalproof::plan
