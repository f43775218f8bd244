#pragma once
// The pixels beside a region, each as the ellipse in its footprint on the board plane. The search for the
// largest circle in the region asks it how much room a place has.

#include "engine/gaps/internal/pixel_region.h"

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace petalproof::gaps {

// Keeps its memory from one region to the next.
class RegionBorder {
 public:
  void assign(const PixelRegion& region, const BoardMapping& mapping);
  // The distance from a place to the nearest of the ellipses, or any distance of at most `needed` that is
  // found first.
  double roomAt(glm::dvec2 place, double needed);

 private:
  struct Pixel {
    std::uint64_t tile = 0;
    int x = 0;
    int y = 0;
  };
  // Pixels that lie near each other, and a circle around their ellipses.
  struct Group {
    std::size_t begin = 0;
    std::size_t end = 0;
    glm::dvec2 middle_mm{0};
    double radius_mm = 0;
  };
  class Nearest;

  void collectPixels(const PixelRegion& region);
  void addGroup(std::size_t begin, std::size_t end);

  std::vector<Pixel> pixels_;
  std::vector<Footprint> footprints_;  // of the pixels, group by group
  std::vector<Group> groups_;
  // The pixels that were in the way last: they most likely are in the way of the next place, too.
  static constexpr std::size_t kept = 4;
  std::array<std::size_t, kept> in_the_way_{};
  std::size_t oldest_in_the_way_ = 0;
};

}  // namespace petalproof::gaps
