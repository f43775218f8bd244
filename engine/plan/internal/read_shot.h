#pragma once
// Reads the [[shot]] sections of a plan file; readPlan calls this. The shots are complete only if `field`'s
// findings have no problem.

#include "engine/plan/internal/field.h"
#include "engine/plan/read_plan.h"

#include <vector>

namespace petalproof::plan {

std::vector<Shot> readShots(const Field& field, Units units, const PlanLimits& limits, PlanPlaces& places);

}  // namespace petalproof::plan
