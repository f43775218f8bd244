#pragma once
// How far a wall reaches along parallel rays: the shadow map of a lamp that is infinitely far away.

#include <glm/geometric.hpp>
#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include <array>
#include <cstdint>
#include <vector>

namespace petalproof {

// Triangles of the wall frame, mm.
struct TriangleSoup {
  std::vector<glm::vec3> vertices;
  std::vector<std::array<std::uint32_t, 3>> triangles;
};

// The frame of parallel rays: (x, y) says which ray, z grows along it towards the lamp. Orthonormal.
struct RayFrame {
  glm::vec3 across{0};
  glm::vec3 up{0};
  glm::vec3 towards{0};

  explicit RayFrame(const glm::vec3& to_lamp);
  glm::vec3 of(const glm::vec3& p) const {
    return {glm::dot(across, p), glm::dot(up, p), glm::dot(towards, p)};
  }
};

// Rays of interest.
struct RayBox {
  glm::vec2 min_mm{0};
  glm::vec2 max_mm{0};
};

inline int floored(float value) {
  const int cut = static_cast<int>(value);
  return cut - (value < static_cast<float>(cut) ? 1 : 0);
}

class DepthMap {
 public:
  static constexpr float nothing = -1e9F;

  // Overwrites the map, reusing its memory: a cell holds where the ray through its middle leaves the soup
  // for good, as z of the frame; `nothing` where it meets nothing. Cells lie on multiples of `cell_mm`, and
  // what a cell holds doesn't depend on the box.
  void draw(const TriangleSoup& soup, const RayFrame& frame, const RayBox& box, float cell_mm);

  // For the ray nearest to that of a point in the frame; `nothing` beside the map.
  float at(float x, float y) const {
    const int column = floored(x * cells_per_mm_) - left_;
    const int row = floored(y * cells_per_mm_) - bottom_;
    if (column < 0 || row < 0 || column >= columns_ || row >= rows_) return nothing;
    return depths_[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) +
                   static_cast<std::size_t>(column)];
  }

 private:
  void drawTriangle(const std::array<glm::vec3, 3>& corners);

  float cells_per_mm_ = 1;
  int left_ = 0;  // its first column and row
  int bottom_ = 0;
  int columns_ = 0;
  int rows_ = 0;
  std::vector<float> depths_;
  std::vector<glm::vec3> cells_;  // vertices: x, y in cells, z in mm
};

}  // namespace petalproof
