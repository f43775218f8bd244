#pragma once
// What a wall's own petals and shades do: the same measure as a gap's, of like patches of bloom nearby.

#include "engine/picture/lens_blur.h"
#include "engine/picture/working_picture.h"
#include "engine/reading/internal/gap_mask.h"
#include "engine/reading/scielab.h"

#include <glm/vec2.hpp>

#include <array>
#include <cstdint>
#include <vector>

namespace petalproof::reading {

// Where a picture shows bloom and nothing else, asked by stretches of a row.
class BloomOnly {
 public:
  static constexpr float least_share = 0.999F;  // of a pixel, to be bloom and nothing else

  explicit BloomOnly(const picture::WorkingPicture& picture, const Pool& pool);
  // False also where part of it lies outside the picture. `at`: where the mask's window goes.
  bool holds(const GapMask& mask, glm::ivec2 at) const;

 private:
  int width_ = 0;
  int height_ = 0;
  std::vector<std::uint32_t> others_before_;  // (width + 1) a row
};

// Up to `most` different places for the mask's window that show only bloom, within `reach_px` of where it is.
std::vector<glm::ivec2> likePlaces(const GapMask& mask, const BloomOnly& bloom, double reach_px, int most,
                                   std::uint64_t seed);

// What the measure needs of the whole picture.
struct SeenPicture {
  const picture::WorkingPicture& sharp;
  const Planes& seen;  // opponent planes as the eye sees them, where needed
  const EyeKernels& kernels;
  const picture::LensBlur& lens;
};

constexpr double difference_percentile = 0.99;

// CIE 1976 differences, squared, between opponent colours and the same with `added`; overwrites `out`.
void squaredDifferences(const std::array<std::vector<float>, 3>& seen,
                        const std::array<std::vector<float>, 3>& added, std::vector<float>& out);

// The measure itself: that percentile, over the grown mask, of the difference that `change` makes to what is
// seen. `at`: where the mask's window lies. `change`: opponent planes as the eye sees them, of the same
// picture.
double differenceOver(const GrownMask& around, const Planes& seen, glm::ivec2 at, const Planes& change);

// The `share` of values at or below it, by the nearest rank; 0 for none.
double nearestRank(std::vector<float> values, double share);

}  // namespace petalproof::reading
