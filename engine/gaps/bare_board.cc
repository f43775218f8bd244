#include "engine/gaps/bare_board.h"

#include "engine/gaps/gaps.h"

#include <cstddef>
#include <cstdint>

namespace petalproof::gaps {

visibility::PixelMask bareMask(const visibility::VisibilityBuffer& seen, const scene::PanelGrid& panels,
                               const Pool& pool) {
  visibility::PixelMask mask{seen.width_px, seen.height_px, {}};
  mask.words.assign(static_cast<std::size_t>(mask.wordsARow()) * static_cast<std::size_t>(mask.height_px), 0);
  pool.forEach(static_cast<std::size_t>(mask.height_px), [&](std::size_t row) {
    const int y = static_cast<int>(row);
    for (int x = 0; x < mask.width_px; ++x)
      if (isBare(seen.id(x, y), panels))
        mask.row(y)[x / visibility::PixelMask::word_px] |= std::uint64_t{1}
                                                           << (x % visibility::PixelMask::word_px);
  });
  return mask;
}

visibility::PixelMask bareBoardMask(const scene::PanelGrid& panels, const camera::Camera& camera) {
  scene::Scene wall;
  wall.panels = panels;
  visibility::VisibilityBuffer seen;
  const Pool alone(1);
  visibility::VisibilityRenderer(alone).renderIds(wall, camera, seen);
  return bareMask(seen, panels, alone);
}

}  // namespace petalproof::gaps
