#pragma once
// The independent reference for ambient occlusion: Embree, one ray at a time.

#include "engine/camera/camera.h"
#include "engine/light/internal/ambient_occlusion.h"

#include <embree3/rtcore.h>

#include <cstdint>
#include <memory>
#include <span>
#include <vector>

namespace petalproof::testing {

class OcclusionReference {
 public:
  // Blooms, and boards as boxes with their thickness.
  explicit OcclusionReference(const scene::Scene& scene);

  // By 128 x 128 rays, one in each cell of an even grid over the unit square, mapped to the hemisphere by
  // cosine; where in a cell comes from `seed`.
  float openness(const light::SurfacePlace& place, std::uint64_t seed) const;

 private:
  template <auto release>
  struct Release {
    template <class Handle>
    void operator()(Handle* handle) const {
      release(handle);
    }
  };
  std::unique_ptr<RTCDeviceTy, Release<rtcReleaseDevice>> device_;
  std::unique_ptr<RTCSceneTy, Release<rtcReleaseScene>> scene_;
};

// A place that a shot sees.
struct PlaceInSight {
  light::SurfacePlace place;
  std::uint32_t triangle = 0;  // its number through the scene's blooms, + 1; 0: on the board
};

// `count` places that the plan's shots see on petals and bare board, each at most `reach_mm` on the wall from
// a bare pixel of its shot; the shots take turns.
std::vector<PlaceInSight> placesNearGaps(const scene::Scene& scene, std::span<const camera::Camera> cameras,
                                         std::size_t count, double reach_mm, std::uint64_t seed);

}  // namespace petalproof::testing
