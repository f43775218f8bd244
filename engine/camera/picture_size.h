#pragma once
// The size of a shot's picture in pixels, from sensor, megapixels and crop; makeCamera() calls it.

#include "engine/plan/plan.h"

namespace petalproof::camera {

// Pixels of the full and of the cropped picture, by the rules in the README's chapter on the JSON:
// W = round(sqrt(megapixels * 1e6 * w / h)), H = round(W * h / w); upright swaps them last; the crop is
// the largest of its shape, each side floored to the parity of the full side.
struct PictureSize {
  int full_width = 0;
  int full_height = 0;
  int width = 0;
  int height = 0;
};
PictureSize pictureSizeOf(const plan::Shot& shot);

}  // namespace petalproof::camera
