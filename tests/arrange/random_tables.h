#pragma once
// Tables nobody wrote: kinds of bloom and counts as makers use them.

#include "engine/tables/arrange_request.h"

#include <cstdint>

namespace petalproof::testing {

enum class TableSize {
  small,  // 2 to 6 panels, one or two layouts
  usual   // 9 to 36 panels, one to five layouts
};

// Some cells hung upside down, here and there an empty one; 6 to 13 kinds in three sizes and greenery.
// `density`: what discs and leaves fill together, of the board; the usual is 1.2 to 1.45.
tables::ArrangeRequest randomTable(std::uint64_t seed, TableSize size, double density);
tables::ArrangeRequest randomTable(std::uint64_t seed, TableSize size = TableSize::small);

}  // namespace petalproof::testing
