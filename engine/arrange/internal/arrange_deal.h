#pragma once
// Deals the request's blooms out to layouts and cells; arrange() calls this first.

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
  std::vector<std::string> words;  // as Arrangement::dealt
};

// The counts on the wall equal the request's. Layouts are divided as few times as that takes; all panels get
// about equally full.
Deal dealBlooms(const tables::ArrangeRequest& request);

}  // namespace petalproof::arrange
