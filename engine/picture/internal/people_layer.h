#pragma once
// People as calm grey figures, see-through, so that what is behind them can still be judged.

#include "engine/camera/camera.h"
#include "engine/visibility/rasteriser.h"

#include <vector>

namespace petalproof::picture {

class PeopleLayer {
 public:
  // `seen`: what the wall alone shows, by the same view.
  PeopleLayer(const std::vector<plan::Person>& people, const camera::WallFrame& wall,
              const visibility::RasterView& view, const visibility::IdBuffer& seen,
              visibility::Rasteriser& rasteriser);

  // The wall's light at a sample with whoever stands in front of it.
  glm::vec3 over(const glm::vec3& behind, int x, int y) const;

 private:
  float rimAt(int x, int y) const;
  float inverseDepth(int x, int y) const {
    return figures_.inverse_depths[static_cast<std::size_t>(y) * static_cast<std::size_t>(figures_.width_px) +
                                   static_cast<std::size_t>(x)];
  }

  int rim_px_ = 1;
  visibility::IdBuffer figures_;  // empty where nobody stands; ids 0 and depths 0 where nobody is seen
};

}  // namespace petalproof::picture
