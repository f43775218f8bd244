#pragma once
// The board plane in its light, on a net of 2 mm; computed once, where it is seen.

#include "engine/base/frames.h"
#include "engine/base/grid.h"
#include "engine/reading/internal/wall_light.h"
#include "engine/scene/scene.h"

#include <cstdint>
#include <span>
#include <vector>

namespace petalproof {

class BoardLight {
 public:
  // Refers to `light`, which must outlive it.
  BoardLight(const PanelGrid& panels, const WallLight& light);

  int tiles() const { return tile_at_.columns() * tile_at_.rows(); }
  // The tile of a place; places outside the wall's outline belong to the nearest tile.
  int tileOf(BoardPoint place) const;
  // Lights those that aren't lit yet.
  void lightUp(std::span<const int> tiles);
  bool isLit(BoardPoint place) const;
  // What arrives at a place of a lit tile on a flat board; between the net's points in proportion.
  Arriving at(BoardPoint place) const;

 private:
  const WallLight& light_;
  Grid<std::uint32_t> tile_at_;  // its first point, or not lit
  std::vector<Arriving> points_;
};

}  // namespace petalproof
