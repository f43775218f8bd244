#pragma once
// People as calm grey figures, see-through, so that what is behind them can still be judged.

#include "engine/camera/camera.h"
#include "engine/visibility/rasteriser.h"

#include <vector>

namespace petalproof {

class PeopleLayer {
 public:
  // `seen`: what the wall alone shows, by the same view.
  PeopleLayer(const std::vector<Person>& people, const WallFrame& wall, const RasterView& view,
              const IdBuffer& seen, Rasteriser& rasteriser);

  // The wall's light at a sample with whoever stands in front of it.
  glm::vec3 over(const glm::vec3& behind, int x, int y) const;

 private:
  float rimAt(int x, int y, std::uint32_t id) const;

  int rim_px_ = 1;
  IdBuffer figures_;  // empty where nobody stands; ids: which person is to be seen, from 1
};

}  // namespace petalproof
