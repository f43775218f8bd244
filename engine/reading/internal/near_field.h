#pragma once
// Short rays among the blooms, exactly: for what lies so near that a shadow map can't tell it from the
// surface itself.

#include "engine/reading/internal/depth_map.h"

#include <glm/vec3.hpp>

#include <cstdint>
#include <vector>

namespace petalproof {

class NearField {
 public:
  static constexpr float reach_mm = 8;

  explicit NearField(const TriangleSoup& soup);

  // Whether a triangle crosses the ray from `from` along the unit vector `towards` within reach_mm.
  bool blocks(const glm::vec3& from, const glm::vec3& towards) const;

 private:
  struct Blade {  // a triangle
    glm::vec3 corner{0};
    glm::vec3 along1{0};
    glm::vec3 along2{0};
    float min_z = 0;
    float max_z = 0;
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
