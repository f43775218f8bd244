#pragma once
// How far the wall reaches along parallel rays: the shadow map of a lamp that is infinitely far away.

#include <glm/geometric.hpp>
#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace petalproof {

// Four at a time, and what comparing them gives: -1 where true.
using FourFloats = float __attribute__((vector_size(16)));
using FourInts = std::int32_t __attribute__((vector_size(16)));

// Triangles of the wall frame, mm, in parts that lie close together.
struct TriangleSoup {
  struct Part {
    std::size_t first_vertex = 0;
    std::size_t end_vertex = 0;
    std::size_t first_triangle = 0;
    std::size_t end_triangle = 0;
    glm::vec3 middle{0};
    float radius_mm = 0;
  };
  std::vector<glm::vec3> vertices;
  std::vector<std::array<std::uint32_t, 3>> triangles;
  std::vector<Part> parts;
};

// The frame of parallel rays: (x, y) says which ray, z grows along it towards the lamp. Orthonormal.
struct RayFrame {
  glm::vec3 across{0};
  glm::vec3 up{0};
  glm::vec3 towards{0};

  explicit RayFrame(const glm::vec3& to_lamp);
  glm::vec3 of(const glm::vec3& v) const {
    return {glm::dot(across, v), glm::dot(up, v), glm::dot(towards, v)};
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
  // for good, as z of the frame; `nothing` where it meets nothing. Cells lie on multiples of `cell_mm`; what
  // a cell holds doesn't depend on the box.
  void draw(const TriangleSoup& soup, const RayFrame& frame, const RayBox& box, float cell_mm);

  // The four cells around a ray, row by row, and their shares by nearness.
  struct Around {
    FourFloats depths{nothing, nothing, nothing, nothing};
    FourFloats shares{1, 0, 0, 0};
    float s = 0;  // of a cell from the first cell's middle to the ray
    float t = 0;
  };
  // `nothing` beside the map.
  Around around(float x, float y) const {
    const float u = x * cells_per_mm_ - 0.5F;
    const float v = y * cells_per_mm_ - 0.5F;
    const int column = floored(u) - left_;
    const int row = floored(v) - bottom_;
    if (column < 0 || row < 0 || column + 1 >= columns_ || row + 1 >= rows_) return {};
    const float* const low = depths_.data() + static_cast<std::ptrdiff_t>(row) * stride_ + column;
    const float* const high = low + stride_;
    const float s = u - static_cast<float>(column + left_);
    const float t = v - static_cast<float>(row + bottom_);
    return {FourFloats{low[0], low[1], high[0], high[1]},
            FourFloats{1 - s, s, 1 - s, s} * FourFloats{1 - t, 1 - t, t, t}, s, t};
  }

 private:
  bool mayShow(const TriangleSoup::Part& part, const RayFrame& frame, const RayBox& box) const;
  void drawTriangle(std::array<glm::vec3, 3> corners);
  void drawSpan(int row, float from, float to, float at_0, float per_x);

  float cells_per_mm_ = 1;
  int left_ = 0;  // its first column and row
  int bottom_ = 0;
  int columns_ = 0;
  int rows_ = 0;
  int stride_ = 0;
  std::vector<float> depths_;
  std::vector<glm::vec3> cells_;  // of a part's vertices: x, y in cells, z in mm
};

}  // namespace petalproof
