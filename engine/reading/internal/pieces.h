#pragma once
// The visible pieces of paper of a picture: what holes are held against.

#include "engine/gaps/components.h"
#include "engine/picture/working_picture.h"

#include <vector>

namespace petalproof::reading {

constexpr std::int64_t least_piece_px = 12;  // what is smaller has no shape

// The 8-connected pieces of one paper, from the top, then from the left. Runs in the task arena of its
// caller.
std::vector<gaps::Component> piecesOf(const picture::WorkingPicture& picture, const Pool& pool);

}  // namespace petalproof::reading
