#pragma once
// Plans whose tables are hard to read back, from a seed: for property tests.

#include "engine/plan/plan.h"

#include <cstdint>

namespace petalproof {

// At least one bloom hangs on the wall; any length, awkward names, empty rows and columns.
plan::Plan madePlan(std::uint64_t seed);

}  // namespace petalproof
