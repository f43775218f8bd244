#pragma once
// Short rays among the blooms, exactly: for what lies so near that a shadow map can't tell it from the
// surface itself.

#include "engine/reading/internal/depth_map.h"

#include <glm/vec3.hpp>

#include <cstdint>
#include <span>
#include <vector>

namespace petalproof {

// A triangle by its corners.
struct Blade {
  glm::vec3 a{0};
  glm::vec3 b{0};
  glm::vec3 c{0};
};

class NearField {
 public:
  static constexpr float reach_mm = 8.0F;
  static constexpr float touching_mm = 0.05F;  // above a place's plane: no more than its own paper's bend

  explicit NearField(const TriangleSoup& soup);

  // Overwrites `blades` with the triangles that come within reach of the place and rise above its plane: only
  // they can block a short ray from there.
  void findAbove(const glm::vec3& place, const glm::vec3& normal, std::vector<Blade>& blades) const;

 private:
  struct Bounds {
    glm::vec3 low{0};
    glm::vec3 high{0};
    bool comeNear(const glm::vec3& place) const;
  };
  int columnOf(float x) const;
  int rowOf(float y) const;
  std::size_t cellOf(int column, int row) const {
    return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) +
           static_cast<std::size_t>(column);
  }
  template <class Visit>
  void forCells(const Visit& visit) const;

  glm::vec2 min_mm_{0};
  int columns_ = 1;
  int rows_ = 1;
  std::vector<Blade> blades_;
  std::vector<Bounds> bounds_;           // as blades_
  std::vector<std::uint32_t> first_in_;  // of each cell: index into in_cell_; one more at the end
  std::vector<std::uint32_t> in_cell_;   // blades within reach of some place of the cell
};

}  // namespace petalproof
