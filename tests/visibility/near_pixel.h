#pragma once
// Why two ways of drawing may differ at a pixel: the true geometry around it, in double precision.

#include "engine/visibility/rasteriser.h"

#include <span>
#include <string>
#include <vector>

namespace petalproof::testing {

class NearPixel {
 public:
  // All triangles must be before the camera.
  NearPixel(std::span<const visibility::TriangleBatch> batches, const visibility::RasterView& view);

  // True if the pixel's centre lies within 1/256 px of the projected edge of a triangle of one of the two ids
  // that nothing else hides there, or of the curve along which triangles of the two ids cut through each
  // other; also where `id_a` is the nearer of two that single precision can't tell apart.
  bool explains(int x, int y, std::uint32_t id_a, std::uint32_t id_b) const;

  // What the ray meets, nearest first, and how far edges are.
  std::string describe(int x, int y) const;

 private:
  struct Projected {
    std::array<glm::dvec2, 3> corners;  // px
    double depth_at_origin = 0;         // inverse depth: at_origin + dot(slope, px)
    glm::dvec2 depth_slope{0};
    double nearest = 0;  // greatest inverse depth of its corners
    double farthest = 0;
    std::uint32_t id = 0;
    glm::dvec2 low{0};  // bounding box
    glm::dvec2 high{0};

    double depthAt(glm::dvec2 px) const;
    double edgeDistance(glm::dvec2 px) const;
    bool contains(glm::dvec2 px) const;
  };

  std::vector<const Projected*> around(glm::dvec2 px) const;

  std::vector<Projected> triangles_;
};

}  // namespace petalproof::testing
