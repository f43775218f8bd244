#pragma once
// What a picture shows beyond the wall and behind it.

#include "engine/base/frames.h"
#include "engine/light/surfaces.h"
#include "engine/scene/scene.h"

namespace petalproof::picture {

// The room past the outer edge: a calm wall that fades downwards to a floor line, and the floor, darker
// under the planned wall. `colour`: the room's own, linear.
glm::vec3 roomColour(const scene::PanelGrid& panels, const glm::vec3& colour, const light::Ray& ray);

// How much light gets into a slit that is `open_mm` wide, at a depth in it, 0 to 1.
float lightInSlit(double open_mm, double depth_mm);

// How wide the slit or empty cell at a place of the board plane is, across its narrow side; the narrowest
// of a seam, or a whole panel.
double openingAt(const scene::PanelGrid& panels, BoardPoint place);

}  // namespace petalproof::picture
