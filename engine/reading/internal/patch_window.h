#pragma once
// A patch and what surrounds it on a grid of square cells: pixels where it is narrow, more of them to a cell
// the wider it is, so that a wide patch takes no longer than a narrow one.

#include "engine/picture/working_picture.h"
#include "engine/reading/internal/gap_mask.h"

#include <glm/vec3.hpp>

#include <cstddef>
#include <cstdint>
#include <vector>

namespace petalproof::reading {

enum class PatchOf { bare, paper };

// Pixels to a cell, along its side: a power of 2. By the patch's mean width (4 area / perimeter).
int cellSizeFor(const GapMask& mask);

struct PatchCell {
  float share = 0;         // of the cell's area that the patch takes
  glm::vec3 own{0};        // mean light of the patch in it
  float beside_share = 0;  // of its area: wall that isn't of the patch
  glm::vec3 beside{0};     // mean light of that wall
};

// Row-major. Cells lie on multiples of their size, whatever the patch; one row and column of cells around it
// belong to the window, also where they lie outside the picture (there they are empty).
struct PatchWindow {
  int cell_px = 1;
  int left = 0;  // in cells, from the picture's upper left corner; may be -1
  int top = 0;
  int width = 0;
  int height = 0;
  std::vector<PatchCell> cells;

  std::size_t offset(int x, int y) const {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x);
  }
};

// `wall`: 1 where a pixel's front belongs to the wall (bloom, covered board): only that surrounds a patch.
// Overwrites `window`, reusing its memory.
void gatherPatch(const picture::WorkingPicture& picture, const std::vector<std::uint8_t>& wall,
                 const GapMask& mask, PatchOf of, PatchWindow& window);

}  // namespace petalproof::reading
