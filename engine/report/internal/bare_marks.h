#pragma once
// Paints the places that are seen bare onto a head-on picture of the wall: hatched one way where a single
// shot sees them, both ways where two do, heavily where three or more do, with a dark rim so that small
// places are found.

#include "engine/base/image.h"
#include "engine/gaps/bare_map.h"

namespace petalproof::report {

// Counts the shots that see bare board somewhere in pixel (x, y) of a picture that holds exactly the wall.
int shotsAt(const gaps::BareMap& bare, int width_px, int height_px, int x, int y);

// The colour of a marked pixel by its number of shots, at least 1.
void paintHatch(Image& image, int x, int y, int shots);

// Fades the picture towards white and marks the places on it.
void markBare(Image& picture, const gaps::BareMap& bare);

}  // namespace petalproof::report
