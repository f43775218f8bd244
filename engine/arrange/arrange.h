#pragma once
// Arranges blooms on panels as a maker would: a first wall from counts alone.
//
// Large blooms first, off the middle by a little; medium ones against them; small ones and leaves into
// what is left and over the edges, where the neighbouring panel will want them. Base plates sit on the
// board, clear of each other, also of those of the neighbouring panels; petals overlap by a sixth to a third
// of the smaller bloom's diameter, measured along the line between the two axes; no bloom lies wholly
// inside another; neighbours of unlike colour where the kinds allow it; no straight rows; no two layouts
// alike.

#include "engine/tables/arrange_request.h"

#include <string>
#include <vector>

namespace petalproof::arrange {

struct Arrangement {
  std::vector<plan::Layout> layouts;  // one for each name `grid` uses, in the order of first use
  // The wall's grid to put into the plan: the request's, but for cells whose layout had to be divided
  // so that the counts come out ("sun b" instead of "sun").
  Grid<plan::Cell> grid;
  std::vector<std::string> dealt;  // in words: what could not be dealt equally, what found no place
  int left_out = 0;                // blooms of the wall that found no place, also said in `dealt`
  double bare_share = 0;           // of the board, no bloom before it, seen head-on; about, 0 to 1
  double paper_share = 0;          // what the blooms would cover of the board if none overlapped another
};

// A full wall has no more of its board bare, seen head-on.
constexpr double usual_bare_share = 0.12;

// About how many more blooms of each kind the wall would take to be full, as a share of those it has; 0
// where it is.
double bloomsLacking(const Arrangement& arrangement);

// The counts on the wall equal the request's: each cell of a layout has the layout's blooms, and where they
// can't all have as many, a layout of its own is made for some cells and `dealt` says so. What finds no
// place clear of the other plates is left out, and `dealt` says that too. Deterministic by seed, one
// thread. Precondition: every count's bloom is there, the grid has at least one panel, sizes are positive.
Arrangement arrange(const tables::ArrangeRequest& request);

}  // namespace petalproof::arrange
