#pragma once
// What the pictures show beside each filler: what a colour has to go with.

#include "engine/base/colour.h"
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

// For each bloom of the scene from `first` on, all of which are fillers without a colour yet: each pixel that
// shows it counts for the colour of the nearest bloom before `first`, or covered board, that the picture
// shows; the distance along rows and columns. Small pictures do: a filler is many pixels wide in them.
std::vector<std::vector<ColourBeside>> coloursBeside(const scene::Scene& scene, std::size_t first,
                                                     const std::vector<camera::Camera>& cameras, int threads);

glm::dvec3 labOf(Colour colour);

// How much a filler of this colour stands out from what is seen beside it: CIEDE2000, root mean square over
// its pixels. The measure of a gap (a picture against the same with the place filled by what surrounds it),
// with flat colours. 0 where no picture shows it.
double standsOut(const glm::dvec3& lab, const std::vector<ColourBeside>& beside);

}  // namespace petalproof::fill
