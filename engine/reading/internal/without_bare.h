#pragma once
// The picture with everything bare filled by what surrounds it.

#include "engine/picture/working_picture.h"
#include "engine/reading/scielab.h"

#include <glm/vec3.hpp>

#include <cstdint>
#include <vector>

namespace petalproof::reading {

// What filling adds to each pixel's light (already times its bare share), and the tiles where that may be
// other than 0.
struct FillingChange {
  Planes light;  // linear red, green, blue; where no part of the pixel is bare: any
  TileSet tiles;
};

// `wall`: 1 where a pixel's front part belongs to the wall (bloom or covered board): only that is taken to
// fill with. A pixel that is bare by half or less takes its own front part; the others what lies around
// their whole connected patch, smoothly. A patch with no such border takes `elsewhere`.
// Overwrites `change`, reusing its memory.
void findChangeOfFilling(const picture::WorkingPicture& picture, const std::vector<std::uint8_t>& wall,
                         const glm::vec3& elsewhere, const Pool& pool, FillingChange& change);

}  // namespace petalproof::reading
