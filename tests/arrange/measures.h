#pragma once
// Measures of an arranged wall, from the plan alone: plain geometry that shares nothing with the arranging.

#include "engine/arrange/arrange.h"
#include "engine/scene/scene.h"
#include "engine/tables/arrange_request.h"

#include <map>
#include <string>
#include <utility>
#include <vector>

namespace petalproof::testing {

plan::Plan planOf(const tables::ArrangeRequest& request, const arrange::Arrangement& arrangement);
scene::Scene sceneOf(const plan::Plan& plan);

// How many of each kind hang on the wall.
std::map<std::string, int> onWall(const plan::Plan& plan);

// Share of the panels' board that no bloom covers, seen head-on; samples a quarter inch apart.
double bareShare(const scene::Scene& scene);

struct PlateMeasure {
  double least_gap_mm = 1e9;         // between any two plates of the wall
  double farthest_off_board_mm = 0;  // a plate past its panel's edge
};
PlateMeasure plateMeasure(const scene::Scene& scene);

// Two round blooms whose outlines meet.
struct Meeting {
  double overlap = 0;   // along the line between the axes, as a share of the smaller one's diameter
  bool twins = false;   // of one kind
  bool across = false;  // on different panels
};
std::vector<Meeting> meetingsOf(const scene::Scene& scene, const plan::Plan& plan);

// Round blooms whose disc lies in that of another.
int whollyInside(const scene::Scene& scene, const plan::Plan& plan);

// Rows from panel to panel: as straightRows, three of one kind on at least two panels.
int straightRowsAcross(const scene::Scene& scene, const plan::Plan& plan);

// Rows: three round blooms of one layout next to each other, like in size (a quarter), evenly spaced (a
// fifth), the middle one within a twentieth of their mean diameter of the line between the outer two.
int straightRows(const plan::Plan& plan);

// The largest share of blooms that two layouts (either way up) have in the same place: the same kind, within
// a tenth of the panel's shorter side.
double mostAlike(const plan::Plan& plan);

// How far a disc of a round bloom reaches past the wall's outer edge: the most, as a share of its diameter
// for those up to 0.45 of the panel's shorter side (`small`), and in mm of all.
struct Overhang {
  double small_share = 0;
  double large_mm = 0;  // of those larger than 0.75 of the panel's shorter side
  double any_mm = 0;
};
Overhang overhangOf(const scene::Scene& scene, const plan::Plan& plan);

}  // namespace petalproof::testing
