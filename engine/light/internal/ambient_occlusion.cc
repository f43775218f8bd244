#include "engine/light/internal/ambient_occlusion.h"

#include "engine/light/internal/wall_light.h"

namespace petalproof::light {

std::vector<float> ambientOcclusion(const scene::Scene& scene, std::span<const SurfacePlace> places,
                                    const Pool& pool) {
  LitSpots spots;
  for (const SurfacePlace& place : places) spots.push_back({place.point, place.normal, place.normal});
  std::vector<float> open;
  WallLight(scene, pool).openness(spots, open);
  return open;
}

}  // namespace petalproof::light
