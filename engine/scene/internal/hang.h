#pragma once
// Hangs every bloom of a plan on its wall.

#include "engine/plan/plan.h"
#include "engine/scene/internal/kinds.h"
#include "engine/scene/mesh.h"
#include "engine/scene/scene.h"

#include <cstdint>
#include <functional>
#include <vector>

namespace petalproof::scene {

// The mesh of a kind's (index into Plan::blooms) variant; asked for once each.
using MeshSource = std::function<Mesh(int kind, std::uint64_t variant)>;

// Panels, colours and blooms, with their meshes in the order of first use.
Scene hungScene(const plan::Plan& plan, const std::vector<Kind>& kinds, const MeshSource& meshes);

}  // namespace petalproof::scene
