#pragma once
// The blooms of all layouts while they are being arranged, and what each place of one costs.

#include "engine/arrange/internal/arrange_coverage.h"
#include "engine/arrange/internal/arrange_kinds.h"
#include "engine/arrange/internal/arrange_spot.h"
#include "engine/arrange/internal/arrange_wall.h"

#include <limits>
#include <vector>

namespace petalproof::arrange {

struct ArrangeItem {
  int kind = 0;
  ArrangeSpot spot;
};

struct ArrangeLayout {
  std::vector<ArrangeItem> items;  // largest first
  // The largest bloom is drawn towards here, off the middle by a little.
  float heart_x = 0;
  float heart_y = 0;
};

// The blooms, and everything that stays as it is while they move.
struct ArrangeTask {
  WallModel wall;
  std::vector<ArrangeKind> kinds;
  std::vector<ArrangeLayout> layouts;
  float largest_radius = 0;  // of the kinds, mm
  float step = 0;            // places are whole steps from a panel's left and top edge, mm
  double care = 1;           // as in the request
  float strictness = 1;      // about overlaps, as for pairPenalty; the search raises it
};

// The penalties of item `index` of a layout, were it at `spot`: all pairs it is in, its edges, rows and
// heart, over the wall's panels; bare board aside. Items from `placed` on aren't there yet. What is above
// `too_much` before the other panels are looked at is returned as it is.
float itemPenalty(const ArrangeTask& task, int layout, int index, const ArrangeSpot& spot, int placed,
                  float too_much = std::numeric_limits<float>::infinity());

// How much of the board counted no bloom covers, seen head-on: 0 to 1.
double bareShare(const ArrangeTask& task);

// The base plate of the item would touch another, or reach past the board.
bool plateMeetsAnother(const ArrangeTask& task, int layout, int index, const ArrangeSpot& spot);

}  // namespace petalproof::arrange
