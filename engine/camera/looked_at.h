#pragma once
// How large, and from how far, a delivered picture is looked at.

#include "engine/camera/camera.h"

namespace petalproof::camera {

// Of the delivered picture: the width of its upper edge, and how far the eye is from its middle.
struct Viewing {
  double width_mm = 0;
  double distance_mm = 0;
};

// By the shot's `looked_at` and the shape of the camera's picture; without one, as a print whose longer side
// is 254 mm. A distance of 333 mm for what is held in the hand and the sizes of screens are common practice,
// no source.
//   print AxB            longer side: the longer of A and B in inches; at 333 mm, those longer than 254 mm
//                        (10 in) farther in proportion
//   phone                71 mm wide at 300 mm; tall pictures within its screen, 154 mm high
//   album                longer side 203 mm (8 in) at 400 mm: a page on the table
//   laptop               as large as fits into 300 x 188 mm, at 550 mm
//   { width, distance }  as it says
Viewing viewingOf(const plan::Shot& shot, const Camera& camera, Units units);

// The pixels that an eye can tell apart: what the picture is reckoned with.
struct WorkingSize {
  int width_px = 0;
  int height_px = 0;
  double pixels_per_degree = 60;  // at the picture's centre
};

// 60 pixels a degree at the picture's centre (20/20 sight tells 1/60 degree apart), rounded up to whole
// pixels: one of p mm has 2 atan(p / 2 / distance) = 1/60 degree. Never more pixels than the camera's, nor
// than 10 million (what is held in the hand has up to 7, and each takes some 200 bytes): then fewer a degree.
// The picture's shape is kept.
WorkingSize workingSizeOf(const Camera& camera, const Viewing& viewing);

}  // namespace petalproof::camera
