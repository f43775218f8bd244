#pragma once
// What fills a tile: the same code compiled for several kinds of processor
// (engine/visibility/internal/kernel). All give the same tiles.

#include "engine/visibility/internal/tile.h"

#include <span>

namespace petalproof::visibility {

// Draws the triangles into the tile, which was started.
using FillTile = void (*)(std::span<const Candidate> candidates, Tile& tile);

void fillTileBaseline(std::span<const Candidate> candidates, Tile& tile);
void fillTileAvx2(std::span<const Candidate> candidates, Tile& tile);

struct TileKernel {
  const char* name;
  FillTile fill;
};
// Those that this processor can run, the fastest last; never empty.
std::span<const TileKernel> tileKernels();

}  // namespace petalproof::visibility
