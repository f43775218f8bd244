#pragma once
// Placements and fillers as TOML keys, written the same by writePlan and by changes to a plan's own text.

#include "engine/plan/internal/toml_text.h"
#include "engine/plan/plan.h"

namespace petalproof::plan {

KeyList placementKeys(const Placement& placement);
KeyList fillerKeys(const Filler& filler);

}  // namespace petalproof::plan
