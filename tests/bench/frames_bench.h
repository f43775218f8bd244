#pragma once
// How long a frame of the wall takes to draw: the demo and a wall of 480 panels, at 1080p and 4K, beside an
// empty frame of the same size.

#include <string>

namespace petalproof::bench {

// `device`: "card", "processor", or empty for a card where there is one. `frames` of each, medians.
int timeFrames(const std::string& device, int frames);

}  // namespace petalproof::bench
