#pragma once
// The measure of a gap taken at other places: the same mask, filled by what surrounds it there, blurred and
// seen. Several places side by side, eight at a time.

#include "engine/reading/internal/gap_mask.h"
#include "engine/reading/internal/lone_eye.h"
#include "engine/reading/internal/smooth_fill.h"
#include "engine/reading/internal/texture.h"

#include <glm/vec2.hpp>

#include <array>
#include <span>
#include <vector>

namespace petalproof::reading {

// Keeps its room from one gap to the next.
class LikePatches {
 public:
  // Refers to `picture`, which must outlive it.
  explicit LikePatches(const SeenPicture& picture) : picture_(picture) {}

  // One value a place, in no particular order: the 99th percentile of the difference over the mask grown by
  // the blur. Places are blurred by the mean disc of the eight that lie at like depths.
  std::vector<float> measures(const GapMask& mask, std::span<const glm::ivec2> places);

 private:
  static constexpr int side_by_side = 8;
  struct Place {
    glm::ivec2 at;
    double disc_px;
  };
  struct MaskPixel {
    int x;
    int y;
    float share;  // 0: beside the mask
  };
  using Group = std::array<Place, side_by_side>;
  using ThreePlanes = std::array<std::vector<float>, 3>;

  double discAt(const GapMask& mask, glm::ivec2 at) const;
  void list(const GapMask& mask);
  void fillHoles(const GapMask& mask, const Group& group);
  void gatherBorder(const MaskPixel& pixel, const Group& group);
  void change(const GapMask& mask, const Group& group);
  void spread(const GapMask& mask, double disc_px, int margin);
  void see(const GrownMask& around, int margin, int width, int height);
  void compare(const GrownMask& around, const Group& group, int margin, int width, int count,
               std::vector<float>& measures);

  const SeenPicture& picture_;
  std::vector<MaskPixel> inside_;
  std::vector<MaskPixel> border_;
  FillWindow window_;
  SmoothFill fill_;
  LoneEye eye_;
  std::vector<LoneEye::Wanted> wanted_;
  ThreePlanes sharp_;  // what filling adds, in opponent planes on the mask's window
  ThreePlanes soft_;   // the same blurred, on a wider one
  ThreePlanes added_;  // and as the eye sees it
  ThreePlanes seen_;   // the picture there, pixel by pixel of the grown mask
  ThreePlanes there_;
  std::vector<float> row_;
  std::vector<float> sums_;
  std::vector<float> squares_;
};

}  // namespace petalproof::reading
