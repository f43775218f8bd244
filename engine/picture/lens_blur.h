#pragma once
// Blur by depth: what a lens makes of a sharp working picture. Each pixel's light spreads evenly over the
// disc of its distance; what is nearer covers what is farther, softly.

#include "engine/picture/planes.h"
#include "engine/picture/working_picture.h"

#include <glm/vec3.hpp>

#include <algorithm>
#include <cmath>
#include <stop_token>
#include <vector>

namespace petalproof::picture {

// The blur disc in pixels of the working picture: b = far * |1 - focus / distance|, the thin lens formula
// of engine/camera/lens.h written for the inverse distance; a lens right at the board would spread a point
// over more than the picture, so discs are cut at the widest.
struct LensBlur {
  double far_px = 0;  // diameter, of a point endlessly far
  double focus_mm = 1;
  static constexpr double widest_px = 256;  // over four degrees: of a gap in such a blur nothing is left

  // Below 0: nearer than what is sharp.
  double signedDiameter(double inverse_mm) const {
    return std::clamp(far_px * (1 - focus_mm * inverse_mm), -widest_px, widest_px);
  }
  double diameter(double inverse_mm) const { return std::abs(signedDiameter(inverse_mm)); }
};

// Inverse distance of the board plane along the lens axis: linear in pixels.
struct InversePlane {
  double at_origin = 0;  // of the picture's upper left corner
  double per_column = 0;
  double per_row = 0;

  double at(int x, int y) const { return at_origin + per_column * (x + 0.5) + per_row * (y + 0.5); }
};

struct BlurredPicture {
  Planes as_is;          // opponent planes
  double widest_px = 0;  // the largest disc used
};

// Overwrites `out`, reusing its memory. The result doesn't depend on the pool. `stop` is asked for each
// block.
void blur(const WorkingPicture& sharp, const InversePlane& board, const LensBlur& lens, const Pool& pool,
          BlurredPicture& out, const std::stop_token& stop = {});

}  // namespace petalproof::picture
