#pragma once
// How far the wall reaches along parallel rays: the shadow map of a lamp that is infinitely far away.

#include "engine/light/internal/joined_paper.h"

#include <glm/geometric.hpp>
#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include <cstddef>
#include <cstdint>
#include <stop_token>
#include <vector>

namespace petalproof::light {

// Triangles of the wall frame, mm, in parts that lie close together.
struct TriangleSoup {
  struct Part {
    std::size_t first_vertex = 0;
    std::size_t end_vertex = 0;
    std::size_t paper = 0;  // index into `papers`: its triangles once more, in larger pieces
    glm::vec3 middle{0};
    float radius_mm = 0;
  };
  std::vector<glm::vec3> vertices;
  std::vector<scene::Triangle> triangles;
  std::vector<JoinedPaper> papers;  // corners count from a part's first vertex
  std::vector<Part> parts;
  float farthest_mm = 1;  // from the board plane, to either side
};

// The frame of parallel rays: (x, y) says which ray, z grows along it towards the lamp. Orthonormal.
struct RayFrame {
  glm::vec3 across{0};
  glm::vec3 up{0};
  glm::vec3 towards{0};

  explicit RayFrame(const glm::vec3& to_lamp);
  glm::vec2 rayOf(const glm::vec3& v) const { return {glm::dot(across, v), glm::dot(up, v)}; }
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

// A cell holds where the ray through its middle leaves the soup for good: the place's distance from the board
// plane, on the lamp's side of it, in steps; `nothing` where the ray meets nothing.
class DepthMap {
 public:
  using Steps = std::int16_t;
  static constexpr Steps nothing = -32768;
  static constexpr float most_steps = 32000;

  // Overwrites the map, reusing its memory. Cells lie on multiples of `cell_mm`; what a cell holds doesn't
  // depend on the box. The lamp must not stand in the board plane. `stop` is asked for every few parts.
  void draw(const TriangleSoup& soup, const RayFrame& frame, const RayBox& box, float cell_mm,
            const std::stop_token& stop = {});

  float cell_mm() const { return 1 / cells_per_mm_; }
  float steps_per_mm() const { return steps_per_mm_; }
  int left() const { return left_; }  // its first column and row
  int bottom() const { return bottom_; }
  int stride() const { return stride_; }
  const Steps* cells() const { return steps_.data(); }

 private:
  bool mayShow(const TriangleSoup::Part& part, const RayFrame& frame, const RayBox& box) const;

  float cells_per_mm_ = 1;
  float steps_per_mm_ = 1;
  int left_ = 0;
  int bottom_ = 0;
  int columns_ = 0;
  int rows_ = 0;
  int stride_ = 0;
  std::vector<Steps> steps_;
  std::vector<glm::vec3> corners_;  // of a part: x, y in cells of the map, z in steps
};

}  // namespace petalproof::light
