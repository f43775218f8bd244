#pragma once
// Finds which colours the pictures show beside each filler, and how much a colour would stand out from them.
// fillerColours chooses by it.

#include "engine/base/colour.h"
#include "engine/base/pool.h"
#include "engine/camera/camera.h"
#include "engine/scene/scene.h"

#include <glm/vec3.hpp>

#include <cstddef>
#include <vector>

namespace petalproof::fill {

struct ColourBeside {
  Colour colour;
  double share = 0;  // of the pictures' area, added up
};

// The colours beside each bloom of the scene from `first` on; these are fillers without a colour yet. Each
// pixel that shows such a filler counts for the colour of the nearest pixel, along rows and columns, that
// shows a bloom before `first` or covered board. Pictures are small: a filler is still many pixels wide in
// them.
std::vector<std::vector<ColourBeside>> coloursBeside(const scene::Scene& scene, std::size_t first,
                                                     const std::vector<camera::Camera>& cameras,
                                                     const Pool& workers);

glm::dvec3 labOf(Colour colour);

// How much a filler of this colour stands out from the colours beside it: root mean square of CIEDE2000 over
// its pixels, as gaps are measured (against the same picture with the place filled from its surroundings),
// but with flat colours. 0 where no picture shows the filler.
double standsOut(const glm::dvec3& lab, const std::vector<ColourBeside>& beside);

}  // namespace petalproof::fill
