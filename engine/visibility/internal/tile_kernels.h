#pragma once
// The functions that fill a tile: the same code (engine/visibility/internal/kernel) compiled for several
// kinds of processor. All give the same tiles. Rasteriser picks the fastest.

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
// The kernels that this processor can run, the fastest last; never empty.
std::span<const TileKernel> tileKernels();

}  // namespace petalproof::visibility
