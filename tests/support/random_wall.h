#pragma once
// Walls nobody planned: overlapping blooms of several kinds on a grid of panels, and cameras before it.

#include "engine/base/frames.h"
#include "engine/camera/camera.h"
#include "engine/scene/scene.h"

#include <cstdint>

namespace petalproof::testing {

struct RandomWallSpec {
  int columns = 6;
  int rows = 5;
  int blooms_per_panel = 10;
  double seam_mm = 1.5;
  std::uint64_t seed = 1;
};

// About 317 triangles a bloom: 30 panels make 95,000, 480 panels 1.5 million. Each bloom has a mesh of its
// own, as handmade copies do.
scene::Scene randomWall(const RandomWallSpec& spec);

// 30 panels, 300 blooms.
RandomWallSpec smallWall(std::uint64_t seed);
// 480 panels, 4,800 blooms.
RandomWallSpec largeWall(std::uint64_t seed);

camera::WallFrame wallFrameOf(const scene::PanelGrid& panels);

// A camera that holds the whole wall in a 3:2 picture, its lens axis turned by `turn_deg` (to the right of
// the wall for positive ones) around the wall's middle.
camera::Camera cameraOnWall(const scene::PanelGrid& panels, double megapixels, double turn_deg);

}  // namespace petalproof::testing
