#pragma once
// Arranges blooms on panels as a maker would: a first wall from counts alone.
//
// Large blooms first, off the middle by a little; medium ones against them; small ones and leaves into
// what is left and over the edges, where the neighbouring panel will want them. Base plates sit on the
// board, clear of each other; petals overlap by a sixth to a third; no bloom wholly inside another;
// neighbours of unlike colour where the kinds allow it; no straight rows; no two layouts alike.

#include "engine/plan/arrange_request.h"

#include <string>
#include <vector>

namespace petalproof {

struct Arrangement {
  std::vector<Layout> layouts;     // one for each name the grid uses, in the order of first use
  std::vector<std::string> dealt;  // in words: what could not be dealt equally, what found no place
};

// The counts on the wall equal the request's wherever cells of a layout allow it (each cell of a layout
// has the layout's blooms); where they can't, a layout of its own is made for some cells ("sun b") or
// `dealt` says what was done. Deterministic by seed. Precondition: every count's bloom is there, the grid
// has at least one panel, sizes are positive.
Arrangement arrange(const ArrangeRequest& request);

}  // namespace petalproof
