#pragma once
// The wall's blooms seen head-on, by parallel rays: which bloom is on top at each place, and how far out.

#include "engine/filler/internal/place_grid.h"
#include "engine/scene/scene.h"

#include <cstdint>
#include <utility>
#include <vector>

namespace petalproof {

struct HeadOnView {
  std::vector<std::int32_t> bloom;  // index into Scene::blooms; -1: none; a place each
  std::vector<float> height_mm;     // of what is on top; 0 where there is none
  std::vector<std::int64_t> face;   // places where each bloom is on top
};

// Fillers of the scene are left out.
HeadOnView headOnView(const Scene& scene, const PlaceGrid& grid);

struct FaceHidden {
  std::int32_t bloom = 0;
  int places = 0;
};

// Of which blooms' faces a mesh hung there would hide how much; ascending by bloom.
std::vector<FaceHidden> facesHidden(const HeadOnView& view, const PlaceGrid& grid, const Mesh& mesh,
                                    const glm::mat4x3& wallFromMesh);

}  // namespace petalproof
