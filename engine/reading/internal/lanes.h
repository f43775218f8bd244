#pragma once
// Eight numbers at a time, for functions that are compiled for several kinds of processors.

#include "engine/reading/internal/wide.h"

#include <cstdint>
#include <cstring>

// What a PETALPROOF_WIDE function calls must become part of it.
#define PETALPROOF_PART __attribute__((always_inline)) inline

namespace petalproof {

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

}  // namespace petalproof
