#pragma once
// Filling a hole by what surrounds it: as smooth as can be between the colours at its border.

#include <glm/vec3.hpp>

#include <cstddef>
#include <cstdint>
#include <vector>

namespace petalproof {

enum class FillState : std::uint8_t { outside, known, wanted };

// A window of a picture, row-major.
struct FillWindow {
  int width = 0;
  int height = 0;
  std::vector<glm::vec3> light;
  std::vector<FillState> state;

  void reset(int columns, int rows);
  std::size_t offset(int x, int y) const {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x);
  }
};

// Sets the light of the `wanted` pixels between that of the `known` ones: started from coarse to fine (after
// S. J. Gortler et al., "The Lumigraph", 1996, pull and push), then relaxed towards Laplace's equation.
// `outside` ones take no part. False, and nothing is set, where no pixel is known.
bool fillSmoothly(FillWindow& window);

}  // namespace petalproof
