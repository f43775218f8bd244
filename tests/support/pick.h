#pragma once
// Numbers for property tests.

#include <random>

namespace petalproof::testing {

// Evenly from [from, to).
inline double pick(std::mt19937_64& random, double from, double to) {
  return std::uniform_real_distribution<double>(from, to)(random);
}

}  // namespace petalproof::testing
