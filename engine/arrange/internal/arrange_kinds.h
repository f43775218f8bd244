#pragma once
// A kind of bloom as the search for places sees it: sizes, colour and its footprint on the raster at each
// turn.

#include "engine/tables/arrange_request.h"

#include <glm/vec3.hpp>

#include <cstdint>
#include <vector>

namespace petalproof::arrange {

// Turns are whole steps, clockwise seen from the front.
constexpr int turn_steps = 24;

// The first and last cell that a bloom covers in a raster row, counted from the cell with the bloom's axis.
struct FootprintRun {
  int row = 0;  // downwards
  int first = 0;
  int last = 0;
};

// A bloom seen head-on: the raster cells that it covers and its reach in mm.
struct TurnedFootprint {
  std::vector<FootprintRun> runs;
  float left = 0;
  float top = 0;
  float right = 0;
  float bottom = 0;
};

// Lengths in mm.
struct ArrangeKind {
  bool greenery = false;  // leaf, leaf spray, fern
  float diameter = 0;     // greenery: length
  float width = 0;
  float radius = 0;  // farthest reach from its axis
  float plate_radius = 0;
  float prominence = 0;  // its size as a share of the panel's shorter side
  double area = 0;       // seen head-on, mm²
  glm::vec3 lab{0};
  std::vector<TurnedFootprint> turns;  // turn_steps
};

// The handmade copies from which a footprint is made.
struct Copies {
  int number = 1;
  int needed = 1;  // a cell counts as covered if this many copies cover it
  std::uint64_t seed = 0;
  // Bit k: the turn of k steps is needed; the footprints of other turns stay empty.
  std::uint32_t turns = 0xFFFFFF;
};

ArrangeKind arrangeKindOf(const plan::Bloom& bloom, Units units, double cell_mm, const Copies& copies);

// How alike the first colours of two kinds are, by their CIE 1976 difference: 1 for the same colour, 0 from a
// difference of 30.
float likeness(const ArrangeKind& a, const ArrangeKind& b);

}  // namespace petalproof::arrange
