#pragma once
// Tables nobody wrote: kinds of bloom and counts as makers use them.

#include "engine/plan/arrange_request.h"

#include <cstdint>

namespace petalproof::testing {

// 9 to 36 panels, one to five layouts, some hung upside down, here and there an empty cell; 8 to 12 kinds
// in three sizes and greenery; discs and greenery together 1.2 to 1.45 times the board ("usual density").
ArrangeRequest randomTable(std::uint64_t seed);

// The same with fewer or more blooms.
ArrangeRequest randomTable(std::uint64_t seed, double density);

}  // namespace petalproof::testing
