#include "engine/visibility/internal/tile_kernels.h"

#include "engine/visibility/internal/kernel_choice.h"

#include <array>

namespace petalproof::visibility {

std::span<const TileKernel> tileKernels() {
  static constexpr std::array kernels{TileKernel{"baseline", fillTileBaseline},
                                      TileKernel{"avx2", fillTileAvx2}};
  return std::span(kernels).first(hasAvx2() ? 2 : 1);
}

}  // namespace petalproof::visibility
