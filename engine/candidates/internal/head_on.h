#pragma once
// The wall's blooms seen head-on, by parallel rays: which bloom is on top at each place, and how far out.
// Sites tests with it how much a filler would hide of larger blooms.

#include "engine/candidates/internal/place_grid.h"
#include "engine/candidates/silhouette.h"
#include "engine/scene/scene.h"

#include <glm/vec2.hpp>

#include <cstdint>
#include <stop_token>
#include <utility>
#include <vector>

namespace petalproof::candidates {

struct HeadOnView {
  static constexpr float nothing = -1e30F;  // height where no bloom is: farther back than any
  std::vector<std::int32_t> bloom;          // by place: index into Scene::blooms; -1: none
  std::vector<float> height_mm;             // by place: of the bloom on top, or `nothing`
  std::vector<std::int64_t> face;           // by bloom: number of places where it is on top
  std::vector<std::int32_t> inner;          // by place: the largest bloom whose inner half holds it; -1: none
  PlaceBits blooms;                         // places with a bloom on top or an inner half
};

// The middle of a bloom, half as long and half as wide (an ellipse for greenery): smaller blooms must not be
// seen to reach into it.
struct InnerHalf {
  glm::dvec2 at{0};
  glm::dvec2 along{0, 1};  // unit vector along its length
  double half_length = 0;
  double half_width = 0;
  bool has(glm::dvec2 place) const;
};

// Fillers of the scene don't count as on top. `inner`: the inner half of each bloom of the scene.
// `stop` is asked for each bloom, which may be as large as the wall.
HeadOnView headOnView(const scene::Scene& scene, const PlaceGrid& grid, const std::vector<InnerHalf>& inner,
                      const std::stop_token& stop = {});

struct FaceHidden {
  std::int32_t bloom = 0;
  int places = 0;
};

struct HeadOnLook {
  std::vector<FaceHidden> faces;   // how much it would hide of each bloom; ascending by bloom
  std::int32_t reaches_into = -1;  // a larger bloom whose inner half it would be seen in
};
// Looks at a filler of that diameter; `seen`: its silhouette head-on. All faces are counted only if it
// reaches into no inner half.
HeadOnLook lookHeadOn(const HeadOnView& view, const PlaceGrid& grid, const scene::Mesh& mesh,
                      const glm::mat4x3& wallFromMesh, const Silhouette& seen, const scene::Scene& scene,
                      double diameter_mm);

}  // namespace petalproof::candidates
