#pragma once
// Which pixels of a row of many lie under each pixel of a row of fewer, and how much of them.

#include <cstddef>
#include <span>
#include <vector>

namespace petalproof::picture {

class PixelShares {
 public:
  struct Share {
    int pixel = 0;
    float share = 0;   // of the coarse pixel: they add up to 1
    float middle = 0;  // of the part of the fine pixel that lies under the coarse one
  };

  PixelShares(int fine, int coarse);
  std::span<const Share> of(int coarse) const {
    const std::size_t from = first_[static_cast<std::size_t>(coarse)];
    return {shares_.data() + from, first_[static_cast<std::size_t>(coarse) + 1] - from};
  }
  // Of a coarse pixel, in fine ones.
  float middleOf(int coarse) const { return (static_cast<float>(coarse) + 0.5F) * fine_per_coarse_; }

 private:
  float fine_per_coarse_ = 1;
  std::vector<Share> shares_;
  std::vector<std::size_t> first_;
};

}  // namespace petalproof::picture
