#pragma once
// Pseudo-random numbers for the searches for covers and fillers.

#include "engine/base/hash.h"

#include <cstdint>

namespace petalproof::cover {

// A sequence of numbers, the same for a seed on every machine.
class RandomSteps {
 public:
  explicit RandomSteps(std::uint64_t seed) : state_(hashOf({seed})) {}

  // The next number in [0, end).
  std::uint32_t below(std::size_t end) {
    state_ = mixed(state_);
    return static_cast<std::uint32_t>((state_ >> 32) * end >> 32);
  }

 private:
  std::uint64_t state_;
};

}  // namespace petalproof::cover
