#pragma once
// A shot as a picture for people: paper blooms in soft front light, computed on the CPU from triangle
// ids, in linear light.

#include "engine/base/image.h"
#include "engine/base/pool.h"
#include "engine/camera/camera.h"
#include "engine/plan/plan.h"
#include "engine/scene/scene.h"

#include <vector>

namespace petalproof::picture {

struct PictureOptions {
  int width_px = 1600;
  int samples = 2;     // each pixel is samples x samples
  bool people = true;  // drawn as plain grey figures, see-through
};

// The frame of `camera`, `width_px` wide. The same for any pool.
Image renderPicture(const scene::Scene& scene, const camera::Camera& camera,
                    const std::vector<plan::Person>& people, const camera::WallFrame& wall, const Pool& pool,
                    const PictureOptions& options = {});

}  // namespace petalproof::picture
