#pragma once
// Makes the figures of people for pictures and visibility, and says where their eyes are.

#include "engine/scene/mesh.h"

namespace petalproof::scene {

// A plain standing figure, feet at y = 0, x right, y up, z to the front (towards the camera), its
// standing point at the origin, in mm. Proportions from the survey named in the source.
Mesh makePerson(double height_mm);

// Eyes of a standing person: at this share of the height, this far in front of the standing point.
constexpr double eye_height_share = 0.935;  // ANSUR II (Gordon et al., NATICK/TR-15/007, 2014), derived
constexpr double eyes_in_front_mm = 100;    // about half a head's length; value from memory

}  // namespace petalproof::scene
