#pragma once
#include "engine/base/hash.h"

#include <cstdint>

namespace petalproof::cover {

// Numbers in sequence for one search: the same for a seed on every machine.
class RandomSteps {
 public:
  explicit RandomSteps(std::uint64_t seed) : state_(hashOf({seed})) {}

  std::uint32_t below(std::size_t end) {
    state_ = mixed(state_);
    return static_cast<std::uint32_t>((state_ >> 32) * end >> 32);
  }

 private:
  std::uint64_t state_;
};

}  // namespace petalproof::cover
