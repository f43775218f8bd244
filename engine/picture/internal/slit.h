#pragma once
// What a line of sight meets that crosses the board plane where there is no board: the cut edge of a board
// beside the opening, or what stands behind.

#include "engine/base/frames.h"
#include "engine/scene/scene.h"

#include <glm/vec2.hpp>

namespace petalproof::picture {

struct BehindPlane {
  enum class Meets { edge, behind, open };  // open: past the wall's outline, no edge met
  Meets meets = Meets::behind;
  float light = 0;  // share of the light at the opening that gets there, 0 to 1
};

// `slope`: how far the line moves along the board plane, mm, for each mm that it goes behind it.
BehindPlane behindPlane(const scene::PanelGrid& panels, BoardPoint opening, glm::dvec2 slope);

// Openness of places in a slit between parallel walls, endlessly long, by 2D geometry: on its floor at
// `depth_mm`, `from_mm` and `to_mm` from its walls; and on a wall, with the other one `across_mm` away.
// A flat strip seen from a place fills (sin b - sin a) / 2 of its light by cosine, a and b its edges' angles
// from the normal (J. R. Howell, A Catalog of Radiation Heat Transfer Configuration Factors, 1982: plane
// element to an infinitely long strip).
float opennessOfFloor(double from_mm, double to_mm, double depth_mm);
float opennessOfWall(double across_mm, double depth_mm);

}  // namespace petalproof::picture
