#include "engine/camera/camera.h"

namespace petalproof {

WallFrame wallFrameOf(const Plan& plan) {
  const Size outline = wallOutline(plan.wall);
  return {plan.units, toMillimetres(outline.width, plan), toMillimetres(outline.height, plan),
          toMillimetres(plan.wall.above_floor, plan)};
}

}  // namespace petalproof
