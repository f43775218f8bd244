#pragma once
// Filling a hole by what surrounds it: as smooth as can be between the colours at its border.

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace petalproof::reading {

// A window with several numbers a pixel (three colours, or those of several pictures side by side), each
// filled on its own. Row-major, a pixel's numbers together.
struct FillWindow {
  int width = 0;
  int height = 0;
  int depth = 1;                     // numbers a pixel
  std::vector<float> light;          // depth a pixel
  std::vector<float> known;          // likewise: 1 where the number is known, else 0
  std::vector<std::uint8_t> wanted;  // a pixel: 1 where its numbers are to be found; none of them is known

  void reset(int columns, int rows, int numbers);
  std::size_t pixel(int x, int y) const {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x);
  }
  float* lightOf(std::size_t pixel) { return light.data() + pixel * static_cast<std::size_t>(depth); }
  float* knownOf(std::size_t pixel) { return known.data() + pixel * static_cast<std::size_t>(depth); }
};

// A wanted pixel and its four neighbours, as offsets into the numbers; itself for one outside.
struct FillUnknown {
  std::uint32_t own = 0;
  std::array<std::uint32_t, 4> beside{};
  bool inner = false;  // all four are wanted too
};

// Keeps its room from one window to the next.
class SmoothFill {
 public:
  // Sets the wanted pixels between the known ones: started from coarse to fine (after S. J. Gortler et al.,
  // "The Lumigraph", 1996, pull and push), then relaxed towards Laplace's equation. Neither wanted nor known:
  // takes no part. A number that is known nowhere ends as anything.
  void fill(FillWindow& window);

 private:
  // Means of 2 x 2 pixels over those that are known.
  struct Level {
    int width = 0;
    int height = 0;
    std::vector<float> light;
    std::vector<float> known;
  };
  static void halve(const Level& fine, int depth, Level& coarse);
  static void complete(const Level& coarse, int depth, Level& fine);

  void list(const FillWindow& window);
  void startFromPyramid(FillWindow& window);

  std::vector<Level> levels_;
  std::vector<FillUnknown> unknowns_;
  std::vector<float> counts_;
};

}  // namespace petalproof::reading
