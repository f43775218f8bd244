#pragma once
// A picture of the wall without the blooms that are being dragged. WallRenderer::drawMoving() draws it once
// and then only draws the moving blooms over it.

#include "viewer/gl/canvas.h"
#include "viewer/gl/look.h"
#include "viewer/gl/view.h"

#include <cstdint>
#include <vector>

namespace petalproof::gl {

// Everything that a picture of the wall depends on, except the places of blooms. The numbers are
// WallRenderer's counts of its changes.
struct StillKey {
  View view;
  Look look;
  std::uint64_t wall = 0;  // changes of meshes, of panels and of the number of blooms
  std::uint64_t light = 0;
  std::uint64_t signs = 0;
  std::uint64_t people = 0;
};
bool isSameStill(const StillKey& a, const StillKey& b);

// The caller keeps it from frame to frame; WallRenderer::drawMoving() fills it.
struct StillPicture {
  Canvas canvas{1};
  bool drawn = false;  // the canvas shows the picture for `key`
  StillKey key;
  std::uint64_t moves = 0;           // the renderer's count of moves when it was drawn
  std::vector<std::uint8_t> moving;  // for each bloom of the scene: 1 where it was left out
};

}  // namespace petalproof::gl
