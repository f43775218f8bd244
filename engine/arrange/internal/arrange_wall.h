#pragma once
// The wall as the search for places sees it: the neighbours of each layout, and the raster of panels on which
// bare board is counted. arrange() makes it once for each raster.

#include "engine/base/grid.h"
#include "engine/plan/plan.h"

#include <array>
#include <cstdint>
#include <string>
#include <vector>

namespace petalproof::arrange {

// A panel on the raster; places in raster cells, x right, y down.
struct CellSite {
  int layout = 0;
  bool upside_down = false;
  float centre_x = 0;
  float centre_y = 0;
  // The cells in which the panel's blooms count; the last column and row are excluded.
  int first_x = 0;
  int first_y = 0;
  int last_x = 0;
  int last_y = 0;
};

// A neighbour of a layout's panels, in the frame of that layout the right way up (mm, y down).
struct Beside {
  int layout = 0;
  bool upside_down = false;  // relative to the layout
  float dx = 0;
  float dy = 0;
  float times = 0;  // how often on the wall, scaled to the number of counted panels
};

enum class Side { left, top, right, bottom };

struct WallModel {
  float panel_width = 0;  // mm
  float panel_height = 0;
  double cell_mm = 0;
  std::vector<std::vector<CellSite>> sites;  // a list for each layout
  std::vector<std::vector<Beside>> besides;  // a list for each layout
  // How often each side of a layout is an outer edge of the wall, as Beside::times; by Side.
  std::vector<std::array<float, 4>> outer;
  Grid<std::uint8_t> board;  // the raster: 1 where bare board counts
};

// Small walls are modelled whole. On large walls every pair of neighbours counts for the penalties, but bare
// board is counted on a sample of panels, each with its eight neighbours. `layouts`: names, in the order of
// the indices.
WallModel wallModelOf(const plan::Wall& wall, Units units, const std::vector<std::string>& layouts,
                      double cell_mm, std::uint64_t seed);

}  // namespace petalproof::arrange
