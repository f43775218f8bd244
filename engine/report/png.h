#pragma once
#include "engine/base/image.h"

#include <string>

namespace petalproof::report {

// A PNG file's bytes, marked sRGB, with its resolution.
std::string encodePng(const Image& image, double dots_per_inch);

}  // namespace petalproof::report
