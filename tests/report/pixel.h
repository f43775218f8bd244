#pragma once

#include "engine/base/colour.h"
#include "engine/base/image.h"

#include <cstddef>

namespace petalproof::testing {

inline Colour pixel(const Image& image, int x, int y) {
  const std::size_t at = 3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(image.width_px) +
                              static_cast<std::size_t>(x));
  return {image.rgb[at], image.rgb[at + 1], image.rgb[at + 2]};
}

}  // namespace petalproof::testing
