#include "engine/gaps/bare_board.h"

#include "engine/gaps/gaps.h"

#include <cstddef>
#include <cstdint>

namespace petalproof {

PixelMask bareBoardMask(const PanelGrid& panels, const Camera& camera) {
  Scene wall;
  wall.panels = panels;
  VisibilityBuffer seen;
  VisibilityRenderer(1).renderIds(wall, camera, seen);
  PixelMask mask{camera.width_px, camera.height_px, {}};
  mask.words.assign(static_cast<std::size_t>(mask.wordsARow()) * static_cast<std::size_t>(mask.height_px), 0);
  for (int y = 0; y < mask.height_px; ++y)
    for (int x = 0; x < mask.width_px; ++x)
      if (isBare(seen.id(x, y), panels))
        mask.row(y)[x / PixelMask::word_px] |= std::uint64_t{1} << (x % PixelMask::word_px);
  return mask;
}

}  // namespace petalproof
