#pragma once
// The innermost loops of the wall's light, over rows of spots or lamps.

#include "engine/light/internal/blades.h"
#include "engine/light/internal/depth_map.h"
#include "engine/light/internal/lit_spots.h"

#include <cstdint>
#include <span>

namespace petalproof::light {

// Spots are taken in strips of this many; lamps in groups.
constexpr int strip_spots = 256;
constexpr int lamp_group = 8;

// A lamp's map as a loop needs it.
struct MapOfLamp {
  glm::vec3 across{0};  // (cells, cells, 1) of the map's frame
  glm::vec3 up{0};
  glm::vec3 towards{0};
  float first_u = 0;  // subtracted from cells: what is left is how far a ray is beyond a cell's middle
  float first_v = 0;
  float cell_mm = 1;
  float steps_per_mm = 1;  // below 0 for a lamp behind the board plane
  float near_mm = 0;
  const DepthMap::Steps* cells = nullptr;
  std::int32_t stride = 0;

  MapOfLamp(const RayFrame& frame, const DepthMap& map, float near);
};

// The share of a lamp's light that gets to each spot of a strip on the side of its `faces` that looks at the
// lamp, 0 to 1: by the four cells of the map around it, each against the spot's own plane. What is less than
// `near_mm` above that may be the surface itself, bent, or another petal that touches it: there, on the
// front side of the face, bit `bit` of `blocked` says whether the light is kept away.
void reaching(const MapOfLamp& lamp, const VectorStrip& points, const VectorStrip& faces,
              const std::uint8_t* blocked, int bit, int count, float* open);

// Sums of weighted cosines of lamps, about the smooth normal: of all lamps that both it and the face look at,
// and of these the part that arrives; likewise on the other side.
struct DomeSums {
  float* all;
  float* open;
  float* all_behind;
  float* open_behind;
};
void addDome(const glm::vec3& towards, float weight, const VectorStrip& normals, const VectorStrip& faces,
             const float* open, int count, const DomeSums& sums);

// Weighted cosines of lamps: what arrives, what is kept away, what arrives on the other side.
struct KeySums {
  float* open;
  float* hidden;
  float* behind;
};
void addKey(const glm::vec3& towards, float weight, const VectorStrip& normals, const float* open, int count,
            const KeySums& sums);

// Directions in groups, the last filled up by its own last. Best when those of a group lie close together.
struct LampGroups {
  explicit LampGroups(std::span<const glm::vec3> towards);
  std::size_t groups() const { return lamps.x.size() / lamp_group; }

  VectorRow lamps;
  VectorRow middles;         // of groups, filled up to a multiple of eight
  std::vector<float> radii;  // the farthest of the group's lamps from that; below 0: no group
};

// The half-space above a place's plane, not farther from the place than `reach_mm`.
struct NearAbove {
  glm::vec3 place{0};
  glm::vec3 normal{0};
  float reach_mm = 0;
  float touching_mm = 0;  // what rises no more than this above the plane doesn't count
};

// A bit for each blade, eight to a byte: whether its bounds come within reach and a corner of it rises above
// the plane.
void bladesAbove(const BladeRows& blades, const NearAbove& near, std::uint8_t* above);

// For each group of lamps, at blocked[group * stride]: sets bit k where one of the blades crosses the ray
// from `place` towards lamp k of the group less than `reach_mm` away.
void findBlocked(std::span<const Blade> blades, const glm::vec3& place, const LampGroups& lamps,
                 float reach_mm, std::uint8_t* blocked, std::size_t stride);

}  // namespace petalproof::light
