#include "engine/visibility/internal/kernel_choice.h"
#include "engine/visibility/internal/tile_kernels.h"

// All that the kernel includes from outside its folder, before the compiler is told of wider lanes: what
// isn't the kernel's own may be shared with code for any processor.
#include <algorithm>
#include <array>
#include <bit>
#include <cstdint>
#include <cstring>

#if PETALPROOF_HAS_AVX2_KERNELS

#pragma GCC target("avx2,bmi,bmi2,lzcnt,popcnt")
#define PETALPROOF_KERNEL avx2
#define PETALPROOF_LANES 8
#include "engine/visibility/internal/kernel/tile_fill.h"

namespace petalproof::visibility {

void fillTileAvx2(std::span<const Candidate> candidates, Tile& tile) { avx2::fillTile(candidates, tile); }

}  // namespace petalproof::visibility

#else

namespace petalproof::visibility {

void fillTileAvx2(std::span<const Candidate> candidates, Tile& tile) { fillTileBaseline(candidates, tile); }

}  // namespace petalproof::visibility

#endif
