#pragma once
#include "viewer/gl/canvas.h"
#include "viewer/gl/program.h"
#include "viewer/gl/view.h"

#include "engine/camera/lens.h"

namespace petalproof::gl {

// What a lens does to a picture: each thing spreads as far as its distance says (engine/camera/lens.h).
struct LensSpread {
  camera::ThinLens lens;
  double px_per_mm = 1;   // of the picture, on the sensor
  double largest_px = 1;  // a disc is drawn no larger
};
// `farthest_mm`, `nearest_mm`: along the lens axis, of what is in the picture; a disc is never drawn larger
// than 8 % of the picture's width.
LensSpread spreadOf(const camera::Camera& camera, double nearest_mm, double farthest_mm);

// The largest radius in pixels that a picture is blurred by.
int blurReachPx(const LensSpread& spread);

class LensBlur {
 public:
  LensBlur();
  // From a canvas that is finished with its depths onto another of the same size, which is finished then.
  void draw(const Canvas& sharp, const View& view, const LensSpread& spread, Canvas& blurred) const;

 private:
  Program program_;
  VertexArray empty_array_;
};

}  // namespace petalproof::gl
