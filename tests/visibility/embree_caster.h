#pragma once
// The independent reference: Embree casts a ray through each pixel's centre.

#include "engine/visibility/rasteriser.h"

#include <embree3/rtcore.h>

#include <cstdint>
#include <memory>
#include <span>
#include <vector>

namespace petalproof::testing {

enum class EmbreeMode {
  fast,   // coherent packets, Embree's quickest
  robust  // RTC_SCENE_FLAG_ROBUST: no ray slips between two triangles
};

class EmbreeCaster {
 public:
  // Builds its tree over all triangles, in the camera frame (so that nothing far from zero is rounded to
  // float), with all threads.
  EmbreeCaster(std::span<const visibility::TriangleBatch> batches, const visibility::RasterView& view,
               EmbreeMode mode);

  // Overwrites `out`: ids as Rasteriser::draw gives them; depths by the ray's length. All cores, tiles of
  // 64 x 64 pixels, packets of 4 x 4.
  void cast(visibility::IdBuffer& out) const;

 private:
  void castTile(int x0, int y0, visibility::IdBuffer& out) const;
  void castPacket(int x0, int y0, visibility::IdBuffer& out) const;

  template <auto release>
  struct Release {
    template <class Handle>
    void operator()(Handle* handle) const {
      release(handle);
    }
  };
  std::unique_ptr<RTCDeviceTy, Release<rtcReleaseDevice>> device_;
  std::unique_ptr<RTCSceneTy, Release<rtcReleaseScene>> scene_;
  std::vector<std::uint32_t> id_of_primitive_;
  visibility::RasterView view_;
};

}  // namespace petalproof::testing
