#pragma once
// How large a delivered picture is and from how far people look at it; from that, how many of its pixels an
// eye can tell apart. The reading of gaps works at that size.

#include "engine/camera/camera.h"

namespace petalproof::camera {

struct Viewing {
  double width_mm = 0;     // of the delivered picture's upper edge
  double distance_mm = 0;  // of the eye from the picture's middle
};

// The viewing that the shot's `looked_at` names, for the shape of the camera's picture; without `looked_at`,
// a print whose longer side is 254 mm. The distance of 333 mm for a picture in the hand and the sizes of
// screens are common practice, no source.
//   print AxB            longer side: the longer of A and B in inches; at 333 mm, prints longer than 254 mm
//                        (10 in) from farther, in proportion
//   phone                71 mm wide at 300 mm; tall pictures within its screen, 154 mm high
//   album                longer side 203 mm (8 in) at 400 mm: a page on the table
//   laptop               as large as fits into 300 x 188 mm, at 550 mm
//   { width, distance }  these lengths
Viewing viewingOf(const plan::Shot& shot, const Camera& camera, Units units);

// The size at which the reading computes the picture: as many pixels as an eye can tell apart.
struct WorkingSize {
  int width_px = 0;
  int height_px = 0;
  double pixels_per_degree = 60;  // at the picture's centre
};

// 60 pixels a degree at the picture's centre (20/20 sight tells 1/60 degree apart), rounded up to whole
// pixels: a pixel of p mm has 2 atan(p / 2 / distance) = 1/60 degree. Never more pixels than the camera's, nor
// than 10 million (what is held in the hand has up to 7, and each takes some 200 bytes): then fewer a degree.
// The picture's shape is kept.
WorkingSize workingSizeOf(const Camera& camera, const Viewing& viewing);

}  // namespace petalproof::camera
