#pragma once
// What light reaches places on the wall.

#include "engine/base/pool.h"
#include "engine/light/internal/depth_map.h"
#include "engine/light/internal/lit_spots.h"
#include "engine/light/internal/near_field.h"
#include "engine/light/internal/sky.h"
#include "engine/scene/scene.h"

#include <glm/vec3.hpp>

#include <span>
#include <stop_token>
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
  // Refers to `pool`, which must outlive it.
  WallLight(const scene::Scene& scene, const Pool& pool);

  // `stop` is asked for every few places and lamps.
  void arriving(const LitSpots& spots, LightQuality quality, std::vector<Arriving>& light,
                const std::stop_token& stop = {}) const;
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
  const Pool& pool_;
};

}  // namespace petalproof::light
