#pragma once
// The wall's blooms seen head-on, by parallel rays: which bloom is on top at each place, and how far out.

#include "engine/candidates/internal/place_grid.h"
#include "engine/candidates/silhouette.h"
#include "engine/scene/scene.h"

#include <glm/vec2.hpp>

#include <cstdint>
#include <utility>
#include <vector>

namespace petalproof::candidates {

struct HeadOnView {
  static constexpr float nothing = -1e30F;  // lies farther back than anything
  std::vector<std::int32_t> bloom;          // index into Scene::blooms; -1: none; a place each
  std::vector<float> height_mm;             // of what is on top, or nothing
  std::vector<std::int64_t> face;           // places where each bloom is on top
  std::vector<std::int32_t> inner;          // the largest bloom in whose inner half a place is; -1: none
  PlaceBits blooms;                         // where there is either
};

// The part of a bloom that smaller ones must not be seen to reach into: half as long and half as wide, an
// ellipse for greenery.
struct InnerHalf {
  glm::dvec2 at{0};
  glm::dvec2 along{0, 1};  // unit; of the length
  double half_length = 0;
  double half_width = 0;
  bool has(glm::dvec2 place) const;
};

// Fillers of the scene are left out of what is on top. `inner`: of each bloom of the scene.
HeadOnView headOnView(const scene::Scene& scene, const PlaceGrid& grid, const std::vector<InnerHalf>& inner);

struct FaceHidden {
  std::int32_t bloom = 0;
  int places = 0;
};

struct HeadOnLook {
  std::vector<FaceHidden> faces;   // of which blooms it would hide how much; ascending by bloom
  std::int32_t reaches_into = -1;  // a bloom larger than it in whose inner half it is seen
};
// Of a bloom of that diameter, `seen` head-on; the faces are all counted only where it reaches into none.
HeadOnLook lookHeadOn(const HeadOnView& view, const PlaceGrid& grid, const scene::Mesh& mesh,
                      const glm::mat4x3& wallFromMesh, const Silhouette& seen, const scene::Scene& scene,
                      double diameter_mm);

}  // namespace petalproof::candidates
