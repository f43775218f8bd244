#pragma once
// Reads the short sections [hands] and [reading] of a plan file; readPlan calls this.

#include "engine/plan/internal/table_reader.h"
#include "engine/plan/plan.h"

namespace petalproof::plan {

Hands readHands(TableReader table, Units units);
ReadingThresholds readThresholds(TableReader table);

}  // namespace petalproof::plan
