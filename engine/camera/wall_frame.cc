#include "engine/camera/wall_frame.h"

namespace petalproof::camera {

WallFrame wallFrameOf(const plan::Plan& plan) {
  const plan::Size outline = plan::wallOutline(plan.wall);
  return {plan.units, toMillimetres(outline.width, plan), toMillimetres(outline.height, plan),
          toMillimetres(plan.wall.above_floor, plan)};
}

}  // namespace petalproof::camera
