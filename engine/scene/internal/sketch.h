#pragma once
// Draws the parts of shapes: petals, rings of petals, turned (lathed) bodies. The sketches of shapes are made
// of them at a radius of about 1; makeShape brings a sketch to its exact size.

#include "engine/base/hash.h"
#include "engine/scene/mesh.h"

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include <cstddef>
#include <cstdint>
#include <span>
#include <utility>
#include <vector>

namespace petalproof::scene {

struct Sketch {
  std::vector<glm::dvec3> points;
  std::vector<float> tint;
  std::vector<Triangle> triangles;

  std::uint32_t add(const glm::dvec3& point, double point_tint);
  void triangle(std::uint32_t a, std::uint32_t b, std::uint32_t c) { triangles.push_back({a, b, c}); }
  // Corners in order around the quad; it is cut from a to c.
  void quad(std::uint32_t a, std::uint32_t b, std::uint32_t c, std::uint32_t d);
};

// The hand that made a copy: small differences, each from a hash of the petal it belongs to.
struct Hand {
  std::uint64_t hash = 0;
  double variation = 0;

  // In [-1, 1] * variation, for petal `petal` in ring `ring`; `difference` tells a petal's differences apart.
  double sway(int ring, int petal, int difference) const;
};

// A cross-section of a petal. Lengths are shares: `along` and `round` of the petal's length, `half_width`
// of its width. `curl_deg` is added to the petal's tilt on the stretch that ends here.
struct PetalRow {
  double along = 0;
  double half_width = 0;  // 0: the section is a point
  double cup = 0;         // how far the edges stand above the middle, share of the half width
  double curl_deg = 0;
  double ruffle = 0;  // points across go up and down in turn, share of the width
  double round = 0;   // how far the edges lie back towards the foot, share of the length
};

// A petal whose foot stands at (foot_radius, foot_height) and that rises from there at tilt_deg from the
// board. `wrap`: 0 straight across, 1 bent around the bloom's axis.
struct Petal {
  double foot_radius = 0;
  double foot_height = 0;
  double length = 1;
  double width = 0.2;  // the rows' half widths are shares of it
  double tilt_deg = 0;
  double wrap = 0;
  double skew = 0;  // lifts an edge and lowers the other, share of the half width: winding petals
  int columns = 3;  // points across, odd
  std::span<const PetalRow> rows;
};

// `angle` in radians from +x, counter-clockwise seen from the front.
void addPetal(Sketch& sketch, const Petal& petal, double angle);

// `count` petals evenly around the axis, the first at `start` (radians), each a little different.
struct Ring {
  Petal petal;
  int count = 0;
  double start = 0;
  int number = 0;  // tells the rings of a bloom apart
};
void addRing(Sketch& sketch, const Ring& ring, const Hand& hand);

// The range of a stand-in's triangles: enough for its outline, few enough for walls of thousands of blooms.
constexpr int least_triangles = 100;
constexpr int most_triangles = 600;

// Reduces the inner rings to equal numbers so that all rings together have `most_petals`; keeps the outermost
// ring.
std::vector<int> thinned(std::vector<int> petals, int most_petals);

// How finely the rings of a bloom are drawn, so that it keeps to its triangles.
struct Detail {
  std::size_t level = 0;    // 0: finest
  std::vector<int> petals;  // of each ring, outermost first
};
// The finest level at which the planned petals fit. If they don't fit at the coarsest level either, the
// outermost ring stays as planned, for the outline, and the inner rings get fewer, broader petals.
// `trianglesAt(level, ring)` is the number of a petal's triangles, at the coarsest level the same in every
// ring; `others` counts all triangles outside petals.
template <class TrianglesAt>
Detail detailFor(std::vector<int> planned, std::size_t levels, int others, const TrianglesAt& trianglesAt) {
  for (std::size_t level = 0; level < levels; ++level) {
    int triangles = others;
    for (std::size_t ring = 0; ring < planned.size(); ++ring)
      triangles += planned[ring] * trianglesAt(level, ring);
    if (triangles <= most_triangles) return {level, std::move(planned)};
  }
  return {levels - 1, thinned(std::move(planned), (most_triangles - others) / trianglesAt(levels - 1, 0))};
}
// The cross-sections and points across of a petal, and its number of triangles.
struct PetalDetail {
  std::span<const PetalRow> rows;
  int columns = 3;
  int triangles() const;
};
Detail detailFor(std::vector<int> planned, std::span<const PetalDetail> levels, int others);

// Cuts each triangle into four, in its plane.
void splitTriangles(Sketch& sketch);

// A body turned about the axis. `profile`: (radius, height) from the outer bottom to the top; a radius of 0
// is a point.
void addLathe(Sketch& sketch, std::span<const glm::dvec2> profile, int segments, double tint_bottom,
              double tint_top);

// Reads a table at t in [0, 1], straight lines between its values.
double along(std::span<const double> table, double t);
// Ring `number` of `count` as a share of the way from the outermost (0) to the innermost (1).
double ringShare(int number, int count);

}  // namespace petalproof::scene
