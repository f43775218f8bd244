#include "engine/gaps/bare_board.h"

#include "engine/base/threads.h"
#include "engine/gaps/gaps.h"

#include <cstddef>
#include <cstdint>

namespace petalproof {

PixelMask bareMask(const VisibilityBuffer& seen, const PanelGrid& panels) {
  PixelMask mask{seen.width_px, seen.height_px, {}};
  mask.words.assign(static_cast<std::size_t>(mask.wordsARow()) * static_cast<std::size_t>(mask.height_px), 0);
  forEach(static_cast<std::size_t>(mask.height_px), [&](std::size_t row) {
    const int y = static_cast<int>(row);
    for (int x = 0; x < mask.width_px; ++x)
      if (isBare(seen.id(x, y), panels))
        mask.row(y)[x / PixelMask::word_px] |= std::uint64_t{1} << (x % PixelMask::word_px);
  });
  return mask;
}

PixelMask bareBoardMask(const PanelGrid& panels, const Camera& camera) {
  Scene wall;
  wall.panels = panels;
  VisibilityBuffer seen;
  VisibilityRenderer(1).renderIds(wall, camera, seen);
  return bareMask(seen, panels);
}

}  // namespace petalproof
