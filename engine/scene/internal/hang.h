#pragma once
// Hangs every bloom of a plan on its wall; buildScene and SceneKeeper call this with their source of meshes.

#include "engine/plan/plan.h"
#include "engine/scene/internal/kinds.h"
#include "engine/scene/mesh.h"
#include "engine/scene/scene.h"

#include <cstdint>
#include <functional>
#include <vector>

namespace petalproof::scene {

// Makes the mesh of a variant of a kind (index into Plan::blooms); called once for each variant used.
using MeshSource = std::function<Mesh(int kind, std::uint64_t variant)>;

// Panels, colours and blooms, with their meshes in the order of first use.
Scene hungScene(const plan::Plan& plan, const std::vector<Kind>& kinds, const MeshSource& meshes);

}  // namespace petalproof::scene
