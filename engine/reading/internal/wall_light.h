#pragma once
// What light reaches places on the wall.

#include "engine/reading/internal/depth_map.h"
#include "engine/reading/internal/near_field.h"
#include "engine/reading/internal/sky.h"
#include "engine/scene/scene.h"

#include <glm/vec3.hpp>

#include <span>
#include <vector>

namespace petalproof {

// A place on a surface, wall frame. Two places that touch may have the same `normal` and other `face`s:
// paper is smooth and its mesh is not.
struct LitSpot {
  glm::vec3 point{0};
  glm::vec3 normal{0};  // unit, of the smooth surface, towards the side that is looked at
  glm::vec3 face{0};    // unit, of the triangle, to the same side
};

// Of the sky and of the key lamp: what arrives, what neighbours keep away, and what arrives on the other
// side. A flat board in the open: 1, 1, and 0 for the rest.
struct Arriving {
  float dome = 0;
  float key = 0;
  float dome_hidden = 0;
  float key_hidden = 0;
  float dome_passed = 0;
  float key_passed = 0;
};

enum class LightQuality {
  full,  // every lamp
  rough  // a few, spread over the sky and the key lamp
};

TriangleSoup bloomsOf(const Scene& scene);

// Blooms cast shadows; boards, which are behind all of them, cast none to the front. The same result for any
// number of threads.
class WallLight {
 public:
  WallLight(const Scene& scene, int threads);

  void arriving(std::span<const LitSpot> spots, LightQuality quality, std::vector<Arriving>& light) const;
  // Ambient occlusion as engine/reading/ambient_occlusion.h says it, by `face`.
  void openness(std::span<const LitSpot> spots, std::vector<float>& open) const;

 private:
  void add(std::span<const SkyLamp> lamps, std::span<const LitSpot> spots, std::span<Arriving> light) const;
  bool passesOutline(const glm::vec3& point, const glm::vec3& towards) const;
  void openTo(std::span<const SkyLamp> lamps, std::span<const LitSpot> spots, std::vector<float>& open) const;

  TriangleSoup blooms_;
  NearField near_;
  float width_mm_;
  float height_mm_;
  int threads_;
};

}  // namespace petalproof
