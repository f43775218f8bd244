#pragma once
// Triangles given by their corners in the picture, for tests of coverage: one unit before a camera at
// the origin whose focal length is a power of two, so that little is lost on the way.

#include "engine/visibility/rasteriser.h"

#include <glm/vec2.hpp>

#include <array>
#include <vector>

namespace petalproof::testing {

class PictureTriangles {
 public:
  PictureTriangles(int width_px, int height_px);

  void add(const std::array<glm::dvec2, 3>& corners_px, double depth_mm = 1);

  // One batch; triangle k has id k + 1.
  std::vector<visibility::TriangleBatch> batches() const;
  const visibility::RasterView& view() const { return view_; }

  // Where the corners of a triangle lie after rounding to float, by the projection the engine states.
  std::array<glm::dvec2, 3> cornersInPicture(std::size_t triangle) const;

 private:
  visibility::RasterView view_;
  std::vector<glm::vec3> vertices_;
  std::vector<std::array<std::uint32_t, 3>> triangles_;
};

}  // namespace petalproof::testing
