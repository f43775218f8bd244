#pragma once
// Encodes pictures as PNG files; all pictures of the reports end here.

#include "engine/base/image.h"

#include <string>

namespace petalproof::report {

// A PNG file's bytes, marked sRGB, with its resolution.
std::string encodePng(const Image& image, double dots_per_inch);

}  // namespace petalproof::report
