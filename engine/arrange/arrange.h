#pragma once
// Arranges blooms on panels as a maker would, from counts alone. Makers of first plans call arrange() with
// the request that planFromTables made.
//
// Large blooms come first, a little off the panel's middle; medium blooms lie against them; small blooms and
// leaves fill the remaining board and hang over the edges, where the neighbouring panels want them. Base
// plates sit on the board, clear of each other and of the neighbouring panels' plates; petals overlap by a
// sixth to a third of the smaller bloom's diameter, measured along the line between the two axes; no bloom
// lies wholly inside another; neighbours differ in colour if the kinds allow it; no straight rows; no two
// layouts alike.

#include "engine/tables/arrange_request.h"

#include <string>
#include <vector>

namespace petalproof::arrange {

struct Arrangement {
  std::vector<plan::Layout> layouts;  // one for each name in `grid`, in the order of first use
  // The grid for the plan: the request's, except for cells whose layout had to be divided to meet the counts
  // ("sun b" instead of "sun").
  Grid<plan::Cell> grid;
  std::vector<std::string> dealt;  // in words: unequal numbers on panels, blooms without a place
  int left_out = 0;                // blooms of the wall that found no place, also said in `dealt`
  double bare_share = 0;           // bare share of the board, seen head-on; an estimate, 0 to 1
  double paper_share = 0;          // share of the board that the blooms would cover without overlaps
};

// The largest bare share of a full wall's board, seen head-on: common practice, no source.
constexpr double usual_bare_share = 0.12;

// An estimate of the blooms that a wall lacks to be full, as a share of its blooms of each kind; 0 for a full
// wall.
double bloomsLacking(const Arrangement& arrangement);

// The counts on the wall equal the request's. All cells of a layout have the same blooms; if the counts don't
// allow that, some cells get a layout of their own, and `dealt` says so. Blooms without a place clear of the
// other plates are left out, and `dealt` says that too. The result depends only on the request, with its
// seed; uses one thread. Precondition: the request has every count's bloom, the grid at least one panel,
// sizes are positive.
Arrangement arrange(const tables::ArrangeRequest& request);

}  // namespace petalproof::arrange
