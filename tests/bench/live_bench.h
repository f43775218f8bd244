#pragma once
namespace petalproof::bench {

// How long it takes from a change of a plan to the gaps of the shot in front, at preview size, while a bloom
// is dragged, and how much of that the hand's own thread works; then to all shots checked in full. Of the
// demo, and, unless `demo_only`, of 480 panels of its layouts, and of as many with a layout each. `changes`
// of each.
void printLiveTimes(int changes, bool demo_only);

}  // namespace petalproof::bench
