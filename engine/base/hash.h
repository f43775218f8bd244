#pragma once
// Reproducible random numbers for handmade copies and searches: each number is a hash of the thing it belongs
// to (seed, cell, petal), so that adding a bloom changes no other. Mixing step: the finaliser of SplitMix64
// (G. Steele, D. Lea, C. Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014).

#include <cstdint>
#include <initializer_list>

namespace petalproof {

constexpr std::uint64_t mixed(std::uint64_t x) {
  x += 0x9e3779b97f4a7c15ULL;
  x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9ULL;
  x = (x ^ (x >> 27)) * 0x94d049bb133111ebULL;
  return x ^ (x >> 31);
}

// A hash of the parts, in their order.
constexpr std::uint64_t hashOf(std::initializer_list<std::uint64_t> parts) {
  std::uint64_t hash = 0;
  for (const std::uint64_t part : parts) hash = mixed(hash ^ mixed(part));
  return hash;
}

// A number in [0, 1) from the upper 53 bits of a hash, as many as a double holds.
constexpr double unitFromHash(std::uint64_t hash) { return static_cast<double>(hash >> 11) * 0x1.0p-53; }

}  // namespace petalproof
