#pragma once
namespace petalproof::bench {

// How long it takes from a change of the demo plan to the gaps of the shot in front, at preview size, while a
// bloom is dragged; then to all shots checked in full. `pairs`: changes.
void printLiveTimes(int pairs);

}  // namespace petalproof::bench
