#pragma once
// How long a shot takes to be read.

#include <string>

namespace petalproof::bench {

// Prints, for the demo plan's shot `name`: the time to see, paint and read it, once its wall's light is
// known, beside that of OpenCV's separable filters with the same kernels over two whole pictures of three
// planes, with the gaps and without: as delivered, and in the size in which they are looked at. Medians of
// `pairs` calls in turn; the larger pictures once. 0, or 1 where the plan can't be read.
int timeReading(const std::string& name, int pairs);

}  // namespace petalproof::bench
