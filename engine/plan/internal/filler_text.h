#pragma once
#include "engine/plan/internal/toml_text.h"
#include "engine/plan/plan.h"

namespace petalproof::plan {

// What stands in a filler's entry (in write_plan.cc).
KeyList fillerKeys(const Filler& filler);

}  // namespace petalproof::plan
