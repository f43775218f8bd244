#pragma once
// A closely built wall as a maker hangs it: thirty panels, laid out as `new` does, hardly any board bare.

#include "engine/plan/read_plan.h"
#include "tests/check/paper_walls.h"

#include <cstdint>

namespace petalproof::testing {

// 5 x 6 panels of 22 x 17 in, with the couple's and the whole wall's shot; buds, roses and leaves may fill.
plan::LoadedPlan closelyBuiltPlan(const PaperPalette& palette, std::uint64_t seed);

}  // namespace petalproof::testing
