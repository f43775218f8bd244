#include "engine/visibility/internal/kernel/tile_fill.h"
#include "engine/visibility/internal/tile_kernels.h"

namespace petalproof::visibility {

void fillTileBaseline(std::span<const Candidate> candidates, Tile& tile) {
  baseline::fillTile(candidates, tile);
}

}  // namespace petalproof::visibility
