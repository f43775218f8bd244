#pragma once
// What the arranging needs to know of a kind of bloom.

#include "engine/tables/arrange_request.h"

#include <glm/vec3.hpp>

#include <cstdint>
#include <vector>

namespace petalproof::arrange {

// Turns are whole steps, clockwise seen from the front.
constexpr int turn_steps = 24;

// Cells of a raster row, first and last, counted from the cell with the bloom's axis.
struct FootprintRun {
  int row = 0;  // downwards
  int first = 0;
  int last = 0;
};

// A bloom seen head-on: the raster cells it covers and how far it reaches, mm.
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
  float radius = 0;  // how far it reaches from its axis
  float plate_radius = 0;
  float prominence = 0;  // its size as a share of the panel's shorter side
  double area = 0;       // seen head-on, mm²
  glm::vec3 lab{0};
  std::vector<TurnedFootprint> turns;  // turn_steps
};

// Handmade copies of a bloom, of which so many cover a place that counts as covered.
struct Copies {
  int number = 1;
  int needed = 1;
  std::uint64_t seed = 0;
  std::uint32_t turns =
      0xFFFFFF;  // bit k: the turn of k steps is asked for; the others' footprints are empty
};

ArrangeKind arrangeKindOf(const plan::Bloom& bloom, Units units, double cell_mm, const Copies& copies);

// 0: far from alike; 1: the same colour (CIE 1976 difference of the first colours, 0 at 30 and more).
float likeness(const ArrangeKind& a, const ArrangeKind& b);

}  // namespace petalproof::arrange
