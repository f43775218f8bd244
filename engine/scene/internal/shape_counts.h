#pragma once
// The numbers of petals and layers that the sketches of shapes are drawn with.

#include <cstddef>
#include <vector>

namespace petalproof::scene {

struct ShapeCounts {
  int petals = 0;
  int layers = 0;
};

// The petals of each ring if all rings have the same number.
inline std::vector<int> ringsOf(const ShapeCounts& counts) {
  return std::vector<int>(static_cast<std::size_t>(counts.layers), counts.petals);
}

}  // namespace petalproof::scene
