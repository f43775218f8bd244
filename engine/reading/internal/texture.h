#pragma once
// What a wall's own petals and shades do: the same measure as a gap's, of like patches of bloom nearby.

#include "engine/reading/internal/gap_mask.h"
#include "engine/reading/lens_blur.h"
#include "engine/reading/scielab.h"
#include "engine/reading/working_picture.h"

#include <glm/vec2.hpp>

#include <cstdint>
#include <vector>

namespace petalproof {

// Where a picture shows bloom and nothing else, asked by stretches of a row.
class BloomOnly {
 public:
  explicit BloomOnly(const WorkingPicture& picture);
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
  const WorkingPicture& sharp;
  const Planes& seen;  // opponent planes as the eye sees them, where needed
  const EyeKernels& kernels;
  const LensBlur& lens;
};

// The measure itself: the 99th percentile, over the grown mask, of the difference that `change` makes to what
// is seen. `at`: where the mask's window lies in the picture. `change`: opponent planes as the eye sees them,
// whose pixel `change_at` is that window's first.
double differenceOver(const GrownMask& around, const Planes& seen, glm::ivec2 at, const Planes& change,
                      glm::ivec2 change_at);

// The measure at one such place: the patch filled by what surrounds it, blurred and seen.
double measureAt(const SeenPicture& picture, const GapMask& mask, glm::ivec2 at);

// The `share` of values at or below it, by the nearest rank; 0 for none.
double nearestRank(std::vector<float> values, double share);

}  // namespace petalproof
