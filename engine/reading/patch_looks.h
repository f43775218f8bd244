#pragma once
// How a patch of a picture looks as somebody looks at it: a hole, or a visible piece of paper measured as if
// it were a hole. Sizes are in minutes of arc, so that patches of pictures of different sizes compare.

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

namespace petalproof::reading {

struct PatchLooks {
  glm::dvec2 centre_deg{0};  // in the picture, from its upper left corner
  double area_arcmin2 = 0;
  double length_arcmin = 0;  // its extent along its principal axis
  double stray_arcmin = 0;   // the farthest that it strays from that axis, to either side
  double difference = 0;     // S-CIELAB (CIE 1976) between the picture with the patch and with it filled
  glm::vec3 colour{0};       // mean CIELAB as the eye sees it
  double variation = 0;      // standard deviation of that colour within the patch
};

}  // namespace petalproof::reading
