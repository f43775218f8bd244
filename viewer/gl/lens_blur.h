#pragma once
// Blurs a finished picture as the lens does. The view through the lens and pictures for files use it.

#include "viewer/gl/canvas.h"
#include "viewer/gl/program.h"
#include "viewer/gl/view.h"

#include "engine/camera/lens.h"

namespace petalproof::gl {

// How a lens spreads a picture: each place by a disc whose size depends on its distance
// (engine/camera/lens.h).
struct LensSpread {
  camera::ThinLens lens;
  double px_per_mm = 1;   // of the picture, on the sensor
  double largest_px = 1;  // the limit of a disc's diameter
};
// `nearest_mm`, `farthest_mm`: the range of distances in the picture, along the lens axis. Discs are limited
// to 8 % of the picture's width.
LensSpread spreadOf(const camera::Camera& camera, double nearest_mm, double farthest_mm);

// The radius of the largest disc, in pixels.
int blurReachPx(const LensSpread& spread);

class LensBlur {
 public:
  LensBlur();
  // Blurs `sharp`, a canvas finished with its depths, onto `blurred`, which gets the same size and is
  // finished.
  void draw(const Canvas& sharp, const View& view, const LensSpread& spread, Canvas& blurred) const;

 private:
  Program program_;
  VertexArray empty_array_;
};

}  // namespace petalproof::gl
