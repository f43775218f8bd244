#pragma once
// What of a wall stands still while some blooms are moved: drawn once, under those that move.

#include "viewer/gl/canvas.h"
#include "viewer/gl/look.h"
#include "viewer/gl/view.h"

#include <cstdint>
#include <vector>

namespace petalproof::gl {

// What a picture of the wall depends on, but for places of blooms; a WallRenderer counts its own changes.
struct StillKey {
  View view;
  Look look;
  std::uint64_t wall = 0;  // other meshes, panels, or another number of blooms
  std::uint64_t light = 0;
  std::uint64_t signs = 0;
  std::uint64_t people = 0;
};
bool isSameStill(const StillKey& a, const StillKey& b);

// Kept by who draws the same picture again and again, filled by WallRenderer::drawMoving.
struct StillPicture {
  Canvas canvas{1};
  bool drawn = false;                // the canvas shows it
  StillKey key;                      // what it shows
  std::uint64_t moves = 0;           // of the renderer, when it was drawn
  std::vector<std::uint8_t> moving;  // by bloom of the scene: 1 where it was left out
};

}  // namespace petalproof::gl
