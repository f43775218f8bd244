#pragma once
// A small picture, or several of one size, with darkness all round, as the eye sees it.

#include "engine/reading/scielab.h"

#include <cstddef>
#include <span>
#include <vector>

namespace petalproof::reading {

// Keeps its room from one picture to the next.
class LoneEye {
 public:
  // `depth` pictures side by side: number d of a pixel at pixel * depth + d. `radius_px`: of the widest
  // kernel.
  void reset(int width, int height, int depth, int radius_px);

  // Only pixels [begin, end) of a row are asked for.
  struct Wanted {
    int begin = 0;
    int end = 0;
  };
  // Adds to `out` one plane of the pictures seen through its kernel. `wanted`: for each row.
  void add(const float* plane, const std::vector<EyeGaussian>& kernel, std::span<const Wanted> wanted,
           float* out);

 private:
  std::ptrdiff_t rowNumbers() const { return static_cast<std::ptrdiff_t>(width_) * depth_; }
  float* acrossRow(int y) { return across_.data() + (y + reach_down_) * rowNumbers(); }

  int width_ = 0;
  int height_ = 0;
  int depth_ = 1;
  int reach_across_ = 0;  // no farther than its own size
  int reach_down_ = 0;
  std::vector<float> row_;
  std::vector<float> across_;
};

}  // namespace petalproof::reading
