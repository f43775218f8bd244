#pragma once
// The blooms of all layouts during the search for places, and the penalty of a bloom's place. The search
// calls itemPenalty for each move it tries.

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

// The blooms with their spots, and everything that the search doesn't change.
struct ArrangeTask {
  WallModel wall;
  std::vector<ArrangeKind> kinds;
  std::vector<ArrangeLayout> layouts;
  float largest_radius = 0;  // of the kinds, mm
  float step = 0;            // places are whole steps from a panel's left and top edge, mm
  double care = 1;           // as in the request
  float strictness = 1;      // about overlaps, as for pairPenalty; the search raises it
};

// The penalties of item `index` of a layout at `spot`: its pairs, edges, rows and distance from the heart,
// summed over the wall's panels, without bare board. Items from number `placed` on don't count yet. A sum
// above `too_much` within the panel is returned without the other panels.
float itemPenalty(const ArrangeTask& task, int layout, int index, const ArrangeSpot& spot, int placed,
                  float too_much = std::numeric_limits<float>::infinity());

// The share of the counted board that no bloom covers, seen head-on: 0 to 1.
double bareShare(const ArrangeTask& task);

// Whether the item's base plate at `spot` touches another plate or reaches past the board.
bool plateMeetsAnother(const ArrangeTask& task, int layout, int index, const ArrangeSpot& spot);

}  // namespace petalproof::arrange
