#pragma once
// Pictures as arrays of pixels: linear light while the engine computes, sRGB bytes for files and screens.

#include <glm/vec3.hpp>

#include <cstddef>
#include <cstdint>
#include <vector>

namespace petalproof {

// Linear light, row-major from the top left.
struct LinearImage {
  int width_px = 0;
  int height_px = 0;
  std::vector<glm::vec3> pixels;
};

// sRGB, 8 bits, three channels, row-major from the top left.
struct Image {
  int width_px = 0;
  int height_px = 0;
  std::vector<std::uint8_t> rgb;
};

}  // namespace petalproof
