#pragma once
// Plans for property tests: any plan that a file can hold, from a seed.

#include "engine/plan/plan.h"

#include <cstdint>

namespace petalproof {

plan::Plan generatedPlan(std::uint64_t seed);

}  // namespace petalproof
