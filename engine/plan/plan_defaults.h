#pragma once
// The defaults that depend on the plan's unit; the other defaults stand beside their fields in plan.h. Reader
// and writer of plans both use them.

#include "engine/plan/plan.h"

namespace petalproof::plan {

// The same length as people would write it in each unit.
struct UsualLength {
  double inches;
  double centimetres;
  double millimetres;

  constexpr Length in(Units units) const {
    return {units == Units::inch ? inches : units == Units::centimetre ? centimetres : millimetres};
  }
};

constexpr UsualLength usual_seam{0.0625, 0.15875, 1.5875};       // 1/16 in
constexpr UsualLength usual_thickness{0.1875, 0.47625, 4.7625};  // 3/16 in

constexpr double usual_plate_share = 0.3;  // a base plate's, of the diameter; common practice, no source

inline Wall defaultWall(Units units) {
  Wall wall;
  wall.seam = usual_seam.in(units);
  wall.board.thickness = usual_thickness.in(units);
  return wall;
}

// The defaults of the keys of [hands]: common practice, no source.
inline Hands defaultHands(Units units) {
  Hands hands;
  hands.bloom_size = 0.04;
  hands.bloom_depth = 0.15;
  hands.place = UsualLength{0.5, 1.27, 12.7}.in(units);
  hands.turn_deg = 15;
  hands.hang = UsualLength{0.15, 0.381, 3.81}.in(units);
  hands.step = UsualLength{0.12, 0.3048, 3.048}.in(units);
  return hands;
}

}  // namespace petalproof::plan
