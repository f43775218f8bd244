#pragma once
// Eight numbers at a time, for functions that are compiled for several kinds of processors.

#include "engine/light/wide.h"

#include <array>
#include <cstdint>
#include <cstring>

// What a PETALPROOF_WIDE function calls must become part of it.
#define PETALPROOF_PART __attribute__((always_inline)) inline

namespace petalproof::light {

// Eight numbers side by side; a processor without such registers takes them in parts. Passed by reference:
// how they are passed by value depends on the processor.
constexpr int lanes = 8;
using Floats = float __attribute__((vector_size(lanes * sizeof(float))));
using Ints = std::int32_t __attribute__((vector_size(lanes * sizeof(std::int32_t))));
using Shorts = std::int16_t __attribute__((vector_size(lanes * sizeof(std::int16_t))));

template <class Lanes, class T>
PETALPROOF_PART void load(const T* from, Lanes& to) {
  std::memcpy(&to, from, sizeof to);
}
template <class Lanes, class T>
PETALPROOF_PART void store(const Lanes& from, T* to) {
  std::memcpy(to, &from, sizeof from);
}

// One bit a lane that isn't 0.
PETALPROOF_PART unsigned bitsOf(const Ints& mask) {
  constexpr Ints bits{1, 2, 4, 8, 16, 32, 64, 128};
  std::array<std::int32_t, lanes> one;
  store(mask & bits, one.data());
  return static_cast<unsigned>(((one[0] | one[1]) | (one[2] | one[3])) |
                               ((one[4] | one[5]) | (one[6] | one[7])));
}

}  // namespace petalproof::light
