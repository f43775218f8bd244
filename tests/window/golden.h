#pragma once
// Pictures of the screen, small, beside those that were looked at.

#include "engine/base/image.h"

#include <string>

namespace petalproof::window_test {

// Each pixel the mean of a square of `by` times `by`; what is left over at the right and below is left out.
Image shrunk(const Image& image, int by);

struct Difference {
  double mean = 0;   // over all channels, of 255
  double share = 0;  // of pixels with a channel off by more than 48
};
// Pictures of two sizes differ in everything.
Difference differenceOf(const Image& a, const Image& b);

// Fails where the picture isn't near tests/window/golden/NAME.png, and leaves it in the temporary folder to
// be looked at. With PETALPROOF_RENEW=1 in the environment it is written in place of the old one, to be
// looked at before it is committed.
void checkGolden(const Image& picture, const std::string& name);

}  // namespace petalproof::window_test
