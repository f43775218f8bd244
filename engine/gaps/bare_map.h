#pragma once
// Counts on a grid of 1 mm in how many shots each place of the wall is seen bare. The check adds its shots;
// the map's sheet and the viewer show it.

#include "engine/base/pool.h"
#include "engine/camera/camera.h"
#include "engine/scene/scene.h"
#include "engine/visibility/visibility_buffer.h"

#include <cstdint>
#include <stop_token>
#include <vector>

namespace petalproof::gaps {

// Cell (i, j) has its middle at (i + 0.5, j + 0.5) cells on the board plane, row by row from below.
struct BareMap {
  int cell_mm = 1;  // side of a cell; more only on walls of over 268 m2
  int columns = 0;
  int rows = 0;
  std::vector<std::uint8_t> shots;  // in how many shots a place is seen bare, at most 255
  double bare_mm2() const;          // area that at least one shot sees bare
};

BareMap emptyBareMap(const scene::PanelGrid& panels);
// Adds one shot: a place counts where the pixel that its middle falls into is bare. `stop` is
// asked for each row; after a stop the map is good for nothing.
void addTo(BareMap& map, const visibility::VisibilityBuffer& buffer, const scene::PanelGrid& panels,
           const camera::Camera& camera, const Pool& pool, const std::stop_token& stop = {});

}  // namespace petalproof::gaps
