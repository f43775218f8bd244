#pragma once
// Short rays among the blooms, exactly: for what lies so near that a shadow map can't tell it from the
// surface itself.

#include "engine/reading/internal/depth_map.h"

#include <glm/vec3.hpp>

#include <cstdint>
#include <span>
#include <vector>

namespace petalproof {

class NearField {
 public:
  static constexpr float reach_mm = 6.5F;
  static constexpr float touching_mm = 0.05F;  // above a place's plane: no more than its own paper's bend

  explicit NearField(const TriangleSoup& soup);

  // Adds the triangles that come within reach of the place and rise above its plane: only they can block a
  // short ray from there.
  void addAbove(const glm::vec3& place, const glm::vec3& normal, std::vector<std::uint32_t>& blades) const;

  // Whether one of these crosses the ray from `from` along the unit vector `towards` within reach.
  bool blocks(std::span<const std::uint32_t> blades, const glm::vec3& from, const glm::vec3& towards) const;

 private:
  struct Blade {  // a triangle
    glm::vec3 corner{0};
    glm::vec3 along1{0};
    glm::vec3 along2{0};
    glm::vec3 low{0};  // its bounds
    glm::vec3 high{0};
    bool risesAbove(const glm::vec3& place, const glm::vec3& normal) const;
    bool comesNear(const glm::vec3& place) const;  // by its bounds
  };
  int columnOf(float x) const;
  int rowOf(float y) const;
  template <class Visit>
  void forCells(const TriangleSoup& soup, const Visit& visit) const;

  glm::vec2 min_mm_{0};
  int columns_ = 1;
  int rows_ = 1;
  std::vector<Blade> blades_;
  std::vector<std::uint32_t> first_in_;  // of each cell: index into in_cell_; one more at the end
  std::vector<std::uint32_t> in_cell_;   // blades
};

}  // namespace petalproof
