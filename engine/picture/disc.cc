#include "engine/picture/disc.h"

#include "engine/base/units.h"

#include <algorithm>
#include <cmath>

namespace petalproof::picture {
namespace {

constexpr double smallest_px = 0.1;

// Area under the half circle of radius r from the middle line to height y.
double areaUpTo(double y, double r) {
  const double inside = std::clamp(y, -r, r);
  return inside * std::sqrt(std::max(0.0, r * r - inside * inside)) + r * r * std::asin(inside / r);
}

}  // namespace

Disc::Disc(double diameter_px) {
  if (diameter_px < smallest_px) {
    half_chords_ = {0.5F};
    return;
  }
  const double r = diameter_px / 2;
  reach_ = std::max(0, static_cast<int>(std::ceil(r - 0.5)));
  for (int row = 0; row <= reach_; ++row)
    half_chords_.push_back(static_cast<float>((areaUpTo(row + 0.5, r) - areaUpTo(row - 0.5, r)) / 2));
  area_ = static_cast<float>(pi * r * r);
}

}  // namespace petalproof::picture
