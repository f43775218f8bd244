#pragma once
// A gap on the working picture: which pixels, and how much of each.

#include "engine/camera/looked_at.h"
#include "engine/gaps/gaps.h"

#include <cstddef>
#include <cstdint>
#include <vector>

namespace petalproof::reading {

struct MaskSpan {  // pixels [begin, end) of a row of the window
  int row = 0;
  int begin = 0;
  int end = 0;
};

// A window of the working picture; (left, top) is its first pixel there. Every pixel of `spans` has a share
// above 0, all others 0.
struct GapMask {
  int left = 0;
  int top = 0;
  int width = 0;
  int height = 0;
  std::vector<float> share;
  std::vector<MaskSpan> spans;

  std::size_t offset(int x, int y) const {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x);
  }
};

// `shot_width_px`, `shot_height_px`: of the picture that the runs belong to.
GapMask maskOf(const std::vector<gaps::Run>& runs, int shot_width_px, int shot_height_px,
               const camera::WorkingSize& size);

// Pixels within `reach_px` of one of the mask's, on a window that is wider by `margin` each way (not cut to
// the picture).
struct GrownMask {
  int margin = 0;
  int width = 0;
  int height = 0;
  std::vector<std::uint8_t> inside;

  bool has(int x, int y) const {
    return inside[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                  static_cast<std::size_t>(x)] != 0;
  }
};
GrownMask grown(const GapMask& mask, double reach_px);

}  // namespace petalproof::reading
