#pragma once
// Makes the meshes and copies that WallRenderer draws: panels with their surroundings, people, and the
// blooms' copies.

#include "viewer/gl/instanced_meshes.h"

#include "engine/camera/camera.h"
#include "engine/plan/plan.h"
#include "engine/scene/scene.h"

#include <span>
#include <vector>

namespace petalproof::gl {

struct Solids {
  std::vector<scene::Mesh> meshes;
  std::vector<Copy> copies;
};

// The front, the cut edges and the back of each panel, and the surface seen through slits and empty cells.
Solids panelSolids(const scene::Scene& scene);

// The people as plain figures, in the wall frame.
Solids peopleSolids(std::span<const plan::Person> people, const camera::WallFrame& wall);

// The copies of the scene's blooms.
std::vector<Copy> copiesOf(const scene::Scene& scene);

}  // namespace petalproof::gl
