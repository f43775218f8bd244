#include "engine/scene/internal/shapes_full.h"

#include "engine/base/units.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>

// The lengths, angles and shares below are drawn by eye after blooms as makers build them; no source.
namespace petalproof::scene {
namespace {

glm::dvec3 polar(double radius, double angle, double height) {
  return {radius * std::cos(angle), radius * std::sin(angle), height};
}

// The petals of each ring of a rose; a rose of 7 has 7, 5, 5 and 3 from the outside in.
std::vector<int> roseRings(const ShapeCounts& counts) {
  const int between = std::max(3, static_cast<int>(std::lround(counts.petals * 5.0 / 7.0)));
  std::vector<int> rings(static_cast<std::size_t>(counts.layers), between);
  rings.back() = 3;
  rings.front() = counts.petals;
  return rings;
}

}  // namespace

// Broad, bowl-shaped petals closing towards the middle, rims ruffled.
Sketch sketchPeony(const ShapeCounts& counts, const Hand& hand) {
  static constexpr std::array tilts{10.0, 34.0, 56.0, 72.0};
  static constexpr std::array lengths{0.86, 0.80, 0.72, 0.62};
  static constexpr std::array feet{0.14, 0.12, 0.10, 0.07};
  static constexpr std::array<PetalRow, 4> rows{{{0, 0.14, 0.2},
                                                 {0.42, 0.84, 0.35, -4},
                                                 {0.80, 0.98, 0.35, 6, 0.02, 0.08},
                                                 {1.0, 0.66, 0.2, 26, 0.04, 0.15}}};
  static constexpr std::array<PetalRow, 3> plain{
      {{0, 0.14, 0.2}, {0.70, 0.98, 0.35, 2, 0.02, 0.06}, {1.0, 0.66, 0.2, 26, 0.04, 0.15}}};
  static constexpr std::array<PetalRow, 2> sparse{{{0, 0.14, 0.2}, {1.0, 0.95, 0.3, 8, 0.04, 0.12}}};
  const std::array<PetalDetail, 4> levels{{{rows, 5}, {rows, 3}, {plain, 3}, {sparse, 3}}};
  const Detail detail = detailFor(ringsOf(counts), levels, 24);
  Sketch sketch;
  for (int k = 0; k < counts.layers; ++k) {
    const int petals = detail.petals[static_cast<std::size_t>(k)];
    const double share = ringShare(k, counts.layers);
    const double reach = along(feet, share) + along(lengths, share) * std::cos(radians(along(tilts, share)));
    const double touching = std::max(reach, 0.35) * std::tan(pi / std::max(petals, 3));
    const Petal petal{.foot_radius = along(feet, share),
                      .foot_height = 0.04 + 0.05 * share,
                      .length = along(lengths, share),
                      .width = std::min(touching, 0.6),
                      .tilt_deg = along(tilts, share),
                      .wrap = 0.45 + 0.45 * share,
                      .columns = levels[detail.level].columns,
                      .rows = levels[detail.level].rows};
    addRing(sketch, {petal, petals, pi / 2 + k * pi / petals, k}, hand);
  }
  static constexpr std::array<glm::dvec2, 3> core{{{0.36, 0.0}, {0.18, 0.14}, {0.0, 0.24}}};
  addLathe(sketch, core, 8, 0.0, 0.3);
  return sketch;
}

// Broad petals with rolled-back rims winding around a bud: 3 + 5 + 5 + 7 from the inside.
Sketch sketchRose(const ShapeCounts& counts, const Hand& hand) {
  static constexpr std::array tilts{15.0, 42.0, 64.0, 80.0};
  static constexpr std::array lengths{0.88, 0.86, 0.84, 0.80};
  static constexpr std::array feet{0.12, 0.11, 0.09, 0.05};
  static constexpr std::array<PetalRow, 4> rows{{{0, 0.30, 0.1},
                                                 {0.48, 0.95, 0.15, 8},
                                                 {0.86, 1.05, 0.05, 6, 0, 0.10},
                                                 {1.0, 0.80, -0.10, -75, 0, 0.16}}};
  static constexpr std::array<PetalRow, 3> plain{
      {{0, 0.30, 0.1}, {0.80, 1.05, 0.08, 7, 0, 0.08}, {1.0, 0.80, -0.10, -70, 0, 0.16}}};
  static constexpr std::array<PetalRow, 2> sparse{{{0, 0.30, 0.1}, {1.0, 1.0, 0.05, 4, 0, 0.14}}};
  const std::array<PetalDetail, 4> levels{{{rows, 5}, {rows, 3}, {plain, 3}, {sparse, 3}}};
  const Detail detail = detailFor(roseRings(counts), levels, 40);
  Sketch sketch;
  for (int k = 0; k < counts.layers; ++k) {
    const double share = ringShare(k, counts.layers);
    const int count = detail.petals[static_cast<std::size_t>(k)];
    const double reach = along(feet, share) + along(lengths, share) * std::cos(radians(along(tilts, share)));
    const double touching = std::max(reach, 0.2) * std::tan(pi / std::max(count, 3));
    const Petal petal{.foot_radius = along(feet, share),
                      .foot_height = 0.04 + 0.06 * share,
                      .length = along(lengths, share),
                      .width = std::min(1.25 * touching, 0.75),
                      .tilt_deg = along(tilts, share),
                      .wrap = 0.55 + 0.40 * share,
                      .skew = 0.12,
                      .columns = levels[detail.level].columns,
                      .rows = levels[detail.level].rows};
    addRing(sketch, {petal, count, pi / 2 + k * 0.7, k}, hand);
  }
  static constexpr std::array<glm::dvec2, 4> core{{{0.36, 0.0}, {0.20, 0.16}, {0.08, 0.46}, {0.0, 0.50}}};
  addLathe(sketch, core, 8, 0.0, 0.3);
  return sketch;
}

// A wavy strip rolled up from the outside to the middle, its rim rolled back; it rises towards the heart.
Sketch sketchBud(const ShapeCounts& counts, const Hand& hand) {
  const int per_turn = std::clamp(100 / counts.layers, 10, 18);
  const int steps = counts.layers * per_turn;
  // The outer turn of a spiral is nearly a circle, whose middle lies a quarter turn on from its end.
  const glm::dvec3 centre{0.28 / counts.layers, 0, 0};
  Sketch sketch;
  std::array<std::uint32_t, 3> last{};
  for (int k = 0; k <= steps; ++k) {
    const double share = static_cast<double>(k) / steps;  // 0 outside, 1 at the heart
    const double angle = pi / 2 + 2.0 * pi * k / per_turn;
    const double end = std::min(1.0, 0.25 + 0.25 * k);  // the strip's outer end is cut off slanting
    const double wave = 0.045 * std::sin(1.27 * k) + 0.02 * hand.sway(0, k, 0);
    const double foot = 0.52 * (1.0 - share) + 0.03;
    const double lean = (0.36 + 0.03 * hand.sway(0, k / per_turn, 1)) * (1.0 - 0.85 * share) * end;
    const double top = (0.62 + 0.30 * std::sqrt(share) + wave) * (0.3 + 0.7 * end);
    const double rim = (0.085 + 0.4 * wave) * (1.0 - 0.6 * share) * end;
    const std::array now{sketch.add(centre + polar(foot, angle, 0.02), 0.0),
                         sketch.add(centre + polar(foot + lean, angle, top), 0.85),
                         sketch.add(centre + polar(foot + lean + rim, angle, top - 0.05 * end), 1.0)};
    for (std::size_t j = 0; k > 0 && j + 1 < now.size(); ++j)
      sketch.quad(last[j], last[j + 1], now[j + 1], now[j]);
    last = now;
  }
  static constexpr std::array<glm::dvec2, 3> core{{{0.58, 0.0}, {0.48, 0.10}, {0.0, 0.12}}};
  addLathe(sketch, core, 14, 0.0, 0.0);
  return sketch;
}

// Tissue, bunched and fanned out to a half ball: crumpled tufts all over a round body.
Sketch sketchPompom(const ShapeCounts& counts, const Hand& hand) {
  constexpr int rim_points = 5;
  const double golden = pi * (3.0 - std::sqrt(5.0));
  const int tufts = std::min(20 * counts.layers + 8, (most_triangles - 60) / (rim_points - 1));
  Sketch sketch;
  for (int k = 0; k < tufts; ++k) {
    const double rise = (k + 0.5) / tufts;  // even steps in height are even in area on a ball
    const double flat = std::sqrt(1.0 - rise * rise);
    const double around = pi / 2 + golden * k;
    const glm::dvec3 out{flat * std::cos(around), flat * std::sin(around), rise};
    const glm::dvec3 side{-std::sin(around), std::cos(around), 0};
    const glm::dvec3 up = glm::cross(out, side);
    const double roll = 2.4 * k + 0.5 * hand.sway(0, k, 0);
    const glm::dvec3 fan = std::cos(roll) * side + std::sin(roll) * up;
    const glm::dvec3 crumple = glm::cross(out, fan);
    const double reach = 0.97 + 0.03 * std::sin(3.7 * k) + 0.03 * hand.sway(0, k, 1);
    const std::uint32_t foot = sketch.add(0.60 * out, 0.0);
    std::uint32_t before = foot;
    for (int j = 0; j < rim_points; ++j) {
      const double t = 2.0 * j / (rim_points - 1) - 1.0;
      const double zigzag = j % 2 == 0 ? -0.06 : 0.06;
      const glm::dvec3 p = reach * (1.0 - 0.12 * t * t) * out + 0.25 * t * fan + (zigzag + 0.26) * crumple;
      const std::uint32_t here = sketch.add({p.x, p.y, std::max(p.z, 0.0)}, 1.0);
      if (j > 0) sketch.triangle(foot, before, here);
      before = here;
    }
  }
  static constexpr std::array<glm::dvec2, 4> body{{{0.74, 0.0}, {0.76, 0.16}, {0.52, 0.58}, {0.0, 0.78}}};
  addLathe(sketch, body, 12, 0.1, 0.3);
  return sketch;
}

// A strip pleated like a fan and closed to a disc; a flat button. Each face of a pleat has its own
// corners: the folds are sharp.
Sketch sketchRosette(const ShapeCounts& counts, const Hand& hand) {
  Sketch sketch;
  const double smaller = std::min(0.35, 0.8 / counts.layers);
  const std::vector<int> pleats_of = thinned(ringsOf(counts), (most_triangles - 80) / 4);
  for (int layer = 0; layer < counts.layers; ++layer) {
    const double size = 1.0 - smaller * layer;
    const double base = 0.09 * layer;
    const int pleats = pleats_of[static_cast<std::size_t>(layer)];
    const auto corner = [&](int k, bool outer) {
      const bool ridge = k % 2 == 0;
      const double angle =
          pi / 2 + pi * (k % (2 * pleats) + 0.12 * hand.sway(layer, k % (2 * pleats), 0)) / pleats;
      const double radius = outer ? size * (ridge ? 1.0 : 0.955) : 0.10;
      return sketch.add(polar(radius, angle, base + (ridge ? 0.13 : 0.0) + (outer ? 0.0 : 0.01)),
                        ridge ? 1.0 : 0.2);
    };
    for (int k = 0; k < 2 * pleats; ++k)
      sketch.quad(corner(k, false), corner(k, true), corner(k + 1, true), corner(k + 1, false));
  }
  const double top = 0.09 * (counts.layers - 1) + 0.16;
  const std::array<glm::dvec2, 4> button{{{0.16, 0.0}, {0.20, top - 0.03}, {0.17, top}, {0.0, top}}};
  addLathe(sketch, button, 16, 0.0, 1.0);
  return sketch;
}

}  // namespace petalproof::scene
