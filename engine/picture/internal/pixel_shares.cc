#include "engine/picture/internal/pixel_shares.h"

#include <algorithm>
#include <cstdint>

namespace petalproof::picture {

// In units of 1 / coarse of a fine pixel both rows have whole numbers.
PixelShares::PixelShares(int fine, int coarse)
    : fine_per_coarse_(static_cast<float>(fine) / static_cast<float>(coarse)) {
  for (std::int64_t k = 0; k < coarse; ++k) {
    first_.push_back(shares_.size());
    const std::int64_t begin = k * fine;
    const std::int64_t end = begin + fine;
    for (std::int64_t at = begin; at < end;) {
      const std::int64_t pixel = at / coarse;
      const std::int64_t next = std::min(end, (pixel + 1) * coarse);
      shares_.push_back({static_cast<int>(pixel), static_cast<float>(next - at) / static_cast<float>(fine),
                         static_cast<float>(static_cast<double>(at + next) / (2.0 * coarse))});
      at = next;
    }
  }
  first_.push_back(shares_.size());
}

}  // namespace petalproof::picture
