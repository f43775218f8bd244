#include "engine/reading/internal/lone_eye.h"

#include "engine/picture/row_loops.h"

#include <algorithm>

namespace petalproof::reading {

void LoneEye::reset(int width, int height, int depth, int radius_px) {
  width_ = width;
  height_ = height;
  depth_ = depth;
  reach_across_ = std::min(radius_px, width - 1);
  reach_down_ = std::min(radius_px, height - 1);
  row_.assign(static_cast<std::size_t>(width + 2 * reach_across_) * static_cast<std::size_t>(depth), 0.0F);
  across_.assign(static_cast<std::size_t>(rowNumbers()) * static_cast<std::size_t>(height + 2 * reach_down_),
                 0.0F);
}

void LoneEye::add(const float* plane, const std::vector<EyeGaussian>& kernel, std::span<const Wanted> wanted,
                  float* out) {
  const int numbers = static_cast<int>(rowNumbers());
  float* row = row_.data() + static_cast<std::ptrdiff_t>(reach_across_) * depth_;
  for (const EyeGaussian& gaussian : kernel) {
    const int taps = static_cast<int>(gaussian.taps.size());
    for (int y = 0; y < height_; ++y) {
      std::copy_n(plane + y * rowNumbers(), numbers, row);
      std::fill_n(acrossRow(y), numbers, 0.0F);
      picture::addSymmetric(row, depth_, gaussian.taps.data(), std::min(taps, reach_across_ + 1), 1.0F,
                            acrossRow(y), numbers);
    }
    for (int y = 0; y < height_; ++y) {
      const Wanted& columns = wanted[static_cast<std::size_t>(y)];
      const std::ptrdiff_t first = static_cast<std::ptrdiff_t>(columns.begin) * depth_;
      picture::addSymmetric(acrossRow(y) + first, rowNumbers(), gaussian.taps.data(),
                            std::min(taps, reach_down_ + 1), gaussian.weight, out + y * rowNumbers() + first,
                            (columns.end - columns.begin) * depth_);
    }
  }
}

}  // namespace petalproof::reading
