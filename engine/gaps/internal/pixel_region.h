#pragma once
// A gap's pixels as a region, and their places and sizes on the board plane, which is known only by a
// homography. The measures of a gap (width, length, outline) are taken on it.

#include "engine/gaps/components.h"

#include <glm/mat3x3.hpp>
#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace petalproof::gaps {

// A pixel on the board plane.
struct Footprint {
  glm::dvec2 centre_mm{0};
  glm::dvec2 half_across_mm{0};
  glm::dvec2 half_down_mm{0};

  // How far the ellipse in the footprint reaches from its centre along a direction of any length.
  double radiusTowards(glm::dvec2 direction) const;
  // At most the distance to that ellipse from a place that the centre is `between` (not 0) away from, and
  // cheap: the distance to the ellipse's tangent across `between`.
  double leastDistance(glm::dvec2 between) const {
    const double across = half_across_mm.x * between.x + half_across_mm.y * between.y;
    const double down = half_down_mm.x * between.x + half_down_mm.y * between.y;
    const double length2 = between.x * between.x + between.y * between.y;
    return (length2 - std::sqrt(across * across + down * down)) / std::sqrt(length2);
  }
  // The distance from a place to that ellipse; 0 within.
  double distanceTo(glm::dvec2 place) const;
  // Half of the footprint's smaller and larger side (singular values).
  double smallestRadius() const;
  double largestRadius() const;
};

// From the picture (px, origin top left) to the board plane (mm).
class BoardMapping {
 public:
  explicit BoardMapping(const glm::dmat3& made) : boardFromPixel_(made) {}

  glm::dvec2 board(glm::dvec2 px) const {
    const glm::dvec3 h = boardFromPixel_ * glm::dvec3(px, 1);
    return glm::dvec2(h) / std::max(h.z, least_weight);
  }
  Footprint footprintAt(glm::dvec2 centre_px) const {
    const glm::dvec3 h = boardFromPixel_ * glm::dvec3(centre_px, 1);
    const double per_weight = 1 / std::max(h.z, least_weight);
    const glm::dvec2 place = glm::dvec2(h) * per_weight;
    const auto half = [&](const glm::dvec3& per_pixel) {
      return (glm::dvec2(per_pixel) - place * per_pixel.z) * (0.5 * per_weight);
    };
    return {place, half(boardFromPixel_[0]), half(boardFromPixel_[1])};
  }

 private:
  glm::dmat3 boardFromPixel_;
  // Corners of pixels whose centres meet the board may look past its horizon, a ray's width away; they are
  // held at this weight, very far out.
  static constexpr double least_weight = 1e-12;
};

// The pixels of a component, to be asked one by one; keeps its memory from one component to the next.
class PixelRegion {
 public:
  void assign(std::span<const Run> runs);

  std::span<const Run> runs() const { return runs_; }
  int left() const { return left_; }
  int top() const { return top_; }
  int width() const { return width_; }
  int height() const { return height_; }
  // May be asked for pixels of its box and pixels beside that.
  bool has(int x, int y) const { return inside_[offset(x, y)] != 0; }
  // The distance in memory from a pixel to the pixel below.
  std::ptrdiff_t pitch() const { return width_ + 2; }
  // A row's pixels from the left of the box on: not 0 for pixels of the region.
  const std::uint8_t* row(int y) const { return &inside_[offset(left_, y)]; }

 private:
  std::size_t offset(int x, int y) const {
    return static_cast<std::size_t>(y - top_ + 1) * static_cast<std::size_t>(width_ + 2) +
           static_cast<std::size_t>(x - left_ + 1);
  }

  std::span<const Run> runs_;
  int left_ = 0;
  int top_ = 0;
  int width_ = 0;
  int height_ = 0;
  std::vector<std::uint8_t> inside_;  // with one pixel of outside all around
};

struct AreaAndCentre {
  double area_mm2 = 0;
  glm::dvec2 centre_mm{0};
};
// Area and centre of the pixels' quads on the board plane.
AreaAndCentre areaOf(std::span<const Run> runs, const BoardMapping& mapping);

// The smallest and the largest side of the footprints of the region's pixels and those beside them (looked at
// in its box's corners and middle: they grow towards the board's horizon).
struct FootprintSizes {
  double smallest_mm = 0;
  double largest_mm = 0;
};
FootprintSizes footprintSizesOf(const PixelRegion& region, const BoardMapping& mapping);

}  // namespace petalproof::gaps
