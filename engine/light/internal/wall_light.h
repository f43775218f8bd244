#pragma once
// What light reaches places on the wall.

#include "engine/light/internal/depth_map.h"
#include "engine/light/internal/lit_spots.h"
#include "engine/light/internal/near_field.h"
#include "engine/light/internal/sky.h"
#include "engine/scene/scene.h"

#include <glm/vec3.hpp>

#include <functional>
#include <span>
#include <vector>

namespace petalproof::light {

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

TriangleSoup bloomsOf(const scene::Scene& scene);

// Blooms cast shadows; boards, which are behind all of them, cast none to the front. The same result for any
// number of threads.
class WallLight {
 public:
  WallLight(const scene::Scene& scene, int threads);

  // `now_and_then`: called within, from any thread, several at once; what it throws ends it. May be empty.
  void arriving(const LitSpots& spots, LightQuality quality, std::vector<Arriving>& light,
                const std::function<void()>& now_and_then = {}) const;
  // Ambient occlusion as engine/reading/ambient_occlusion.h says it, by `faces`.
  void openness(const LitSpots& spots, std::vector<float>& open) const;

 private:
  bool passesOutline(const glm::vec3& point, const glm::vec3& towards) const;
  void openTo(std::span<const SkyLamp> lamps, const LitSpots& spots, std::vector<float>& open) const;

  TriangleSoup blooms_;
  NearField near_;
  float width_mm_;
  float height_mm_;
  float cell_mm_;  // of shadow maps
  int threads_;
};

}  // namespace petalproof::light
