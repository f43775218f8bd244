#pragma once
// Which pixels of a row a triangle covers, in integers.
//
// A pixel is covered if its centre lies inside the triangle, on a left edge, or on a horizontal upper
// edge (the top-left rule). Row y is crossed by an edge if y_upper <= centre < y_lower; there the edge
// passes x_upper + (centre - y_upper) * dx / dy, and pixels from the first centre at or right of that
// belong to its right side. Both sides of an edge shared by two triangles compute the same pixel.

#include "engine/visibility/internal/setup.h"

#include <cstdint>

namespace petalproof::visibility {

constexpr std::int64_t floorDivided(std::int64_t a, std::int64_t b) {  // b > 0
  const std::int64_t q = a / b;
  return a % b < 0 ? q - 1 : q;
}

// Walks down an edge row by row; `pixel` is the first pixel at or right of it.
class EdgeWalk {
 public:
  // The edge from (x0, y0) down to (x1, y1), y0 < y1, in 1/256 px, at the centre of row `row`.
  EdgeWalk(std::int32_t x0, std::int32_t y0, std::int32_t x1, std::int32_t y1, int row) {
    const std::int64_t dx = std::int64_t{x1} - x0;
    const std::int64_t dy = std::int64_t{y1} - y0;
    denominator_ = dy * subpixels;
    // ceil(((x0 - 128) * dy + (centre - y0) * dx) / (256 * dy)) as floor((... - 1) / ...) + 1
    const std::int64_t centre = std::int64_t{row} * subpixels + subpixels / 2;
    const std::int64_t numerator = (std::int64_t{x0} - subpixels / 2) * dy + (centre - y0) * dx - 1;
    const std::int64_t quotient = floorDivided(numerator, denominator_);
    pixel_ = quotient + 1;
    remainder_ = numerator - quotient * denominator_;
    step_ = floorDivided(dx * subpixels, denominator_);
    step_remainder_ = dx * subpixels - step_ * denominator_;
  }

  std::int64_t pixel() const { return pixel_; }

  void down() {
    pixel_ += step_;
    remainder_ += step_remainder_;
    if (remainder_ >= denominator_) {
      remainder_ -= denominator_;
      ++pixel_;
    }
  }

 private:
  std::int64_t pixel_ = 0;
  std::int64_t remainder_ = 0;
  std::int64_t denominator_ = 1;
  std::int64_t step_ = 0;
  std::int64_t step_remainder_ = 0;
};

}  // namespace petalproof::visibility
