#pragma once
// What each lamp sees, to know what lies in shadow.

#include "engine/light/internal/light_rig.h"
#include "engine/visibility/rasteriser.h"

#include <glm/mat4x3.hpp>

#include <span>
#include <vector>

namespace petalproof::light {

struct Box {
  glm::dvec3 min_mm{0};
  glm::dvec3 max_mm{0};
};

class ShadowMaps {
 public:
  // `place`: what is to be lit, wall frame.
  ShadowMaps(const std::vector<Lamp>& lamps, std::span<const visibility::TriangleBatch> casters,
             const Box& place, visibility::Rasteriser& rasteriser);

  std::size_t count() const { return maps_.size(); }
  // The share of a lamp's light that reaches a point of the wall frame on a surface with that normal, 0 to 1,
  // softened over a map's pixel; 1 beside the map.
  float reaching(std::size_t lamp, const glm::vec3& point, const glm::vec3& normal) const;

 private:
  struct Map {
    glm::mat4x3 lampFromWall{1.0F};
    glm::vec3 towards{0};
    float focal_px = 0;
    glm::vec2 principal_px{0};
    float pixel_mm = 0;
    int width_px = 0;
    float last_u = 0;  // of the middle of the last column
    float last_v = 0;
    std::vector<float> inverse_depths;
  };
  std::vector<Map> maps_;
};

}  // namespace petalproof::light
