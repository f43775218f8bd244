#pragma once
// What stands beside the blooms, as copies of meshes: panels, what is behind them, people.

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

// The front of each panel, its cut edges and its back, and what is seen behind slits and empty cells.
Solids panelSolids(const scene::Scene& scene);

// The people as plain figures, in the wall frame.
Solids peopleSolids(std::span<const plan::Person> people, const camera::WallFrame& wall);

std::vector<Copy> copiesOf(const scene::Scene& scene);

}  // namespace petalproof::gl
