#include "engine/reading/ambient_occlusion.h"

#include "engine/reading/internal/wall_light.h"

namespace petalproof {

std::vector<float> ambientOcclusion(const Scene& scene, std::span<const SurfacePlace> places, int threads) {
  LitSpots spots;
  for (const SurfacePlace& place : places) spots.push_back({place.point, place.normal, place.normal});
  std::vector<float> open;
  WallLight(scene, threads).openness(spots, open);
  return open;
}

}  // namespace petalproof
