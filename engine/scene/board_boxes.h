#pragma once
// Makes the meshes of the panels; the light of a scene is computed on them.

#include "engine/scene/mesh.h"
#include "engine/scene/scene.h"

namespace petalproof::scene {

// A panel as a box with its thickness behind the board plane (front face at z = 0), for pictures.
// Wall frame, mm.
Mesh boardBox(const PanelGrid& panels, int column, int row);

}  // namespace petalproof::scene
