#pragma once
// Which blooms, and how many of each, every cell gets.

#include "engine/tables/arrange_request.h"

#include <string>
#include <vector>

namespace petalproof::arrange {

struct DealtLayout {
  std::string name;
  std::vector<int> kinds;  // indices into ArrangeRequest::blooms, one for each bloom of the layout
};

struct Deal {
  std::vector<DealtLayout> layouts;  // in the order of first use by `grid`
  Grid<plan::Cell> grid;
  std::vector<std::string> words;
};

// Counts on the wall equal the request's. A layout is divided into as few others as that takes; the blooms
// are shared out so that every panel is about equally full.
Deal dealBlooms(const tables::ArrangeRequest& request);

}  // namespace petalproof::arrange
