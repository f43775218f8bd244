// Full blooms: peony, rose, bud, pompom, rosette. Bodies that close towards the middle.

#include "engine/base/units.h"
#include "engine/scene/internal/shape_sketches.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace petalproof {
namespace {

glm::dvec3 polar(double radius, double angle, double height) {
  return {radius * std::cos(angle), radius * std::sin(angle), height};
}

}  // namespace

// Broad, bowl-shaped petals closing towards the middle, rims ruffled.
Sketch sketchPeony(const ShapeCounts& counts, const Hand& hand) {
  static constexpr std::array tilts{10.0, 35.0, 60.0, 80.0};
  static constexpr std::array lengths{0.86, 0.80, 0.72, 0.60};
  static constexpr std::array feet{0.14, 0.12, 0.08, 0.05};
  static constexpr std::array<PetalRow, 4> rows{
      {{0, 0.14, 0.2}, {0.42, 0.86, 0.35, 12}, {0.80, 1.02, 0.35, 14, 0.03}, {1.0, 0.62, 0.2, 22, 0.07}}};
  Sketch sketch;
  for (int k = 0; k < counts.layers; ++k) {
    const double share = ringShare(k, counts.layers);
    const double length = along(lengths, share);
    const double reach = along(feet, share) + length * std::cos(radians(along(tilts, share)));
    const Petal petal{
        .foot_radius = along(feet, share),
        .foot_height = 0.04 + 0.05 * share,
        .length = length,
        .width = std::min(std::max(reach, 0.35) * std::tan(pi / std::max(counts.petals, 3)), 0.6),
        .tilt_deg = along(tilts, share),
        .wrap = 0.45 + 0.45 * share,
        .columns = 5,
        .rows = rows};
    addRing(sketch, {petal, counts.petals, pi / 2 + k * pi / counts.petals, k}, hand);
  }
  static constexpr std::array<glm::dvec2, 3> core{{{0.36, 0.0}, {0.20, 0.20}, {0.0, 0.50}}};
  addLathe(sketch, core, 6, 0.0, 0.5);
  return sketch;
}

// Broad petals with rolled-back rims winding around a bud: 3 + 5 + 5 + 7 from the inside.
Sketch sketchRose(const ShapeCounts& counts, const Hand& hand) {
  static constexpr std::array tilts{15.0, 42.0, 64.0, 80.0};
  static constexpr std::array lengths{0.86, 0.86, 0.84, 0.80};
  static constexpr std::array feet{0.12, 0.11, 0.09, 0.05};
  static constexpr std::array<PetalRow, 4> rows{
      {{0, 0.30, 0.1}, {0.50, 0.95, 0.15, 8}, {0.86, 1.05, 0.05, 6}, {1.0, 0.66, -0.15, -75}}};
  Sketch sketch;
  for (int k = 0; k < counts.layers; ++k) {
    const double share = ringShare(k, counts.layers);
    const bool outermost = k == 0;
    const bool innermost = k > 0 && k + 1 == counts.layers;
    const int between = std::max(3, static_cast<int>(std::lround(counts.petals * 5.0 / 7.0)));
    const int count = outermost ? counts.petals : innermost ? 3 : between;
    const double reach = along(feet, share) + along(lengths, share) * std::cos(radians(along(tilts, share)));
    const Petal petal{
        .foot_radius = along(feet, share),
        .foot_height = 0.04 + 0.06 * share,
        .length = along(lengths, share),
        .width = std::min(1.25 * std::max(reach, 0.2) * std::tan(pi / std::max(count, 3)), 0.75),
        .tilt_deg = along(tilts, share),
        .wrap = 0.55 + 0.40 * share,
        .skew = 0.12,
        .columns = 5,
        .rows = rows};
    addRing(sketch, {petal, count, pi / 2 + k * 0.7, k}, hand);
  }
  static constexpr std::array<glm::dvec2, 4> core{{{0.36, 0.0}, {0.22, 0.18}, {0.12, 0.55}, {0.0, 0.70}}};
  addLathe(sketch, core, 8, 0.0, 0.5);
  return sketch;
}

// A strip rolled up from the outside to the middle, its rim rolled back.
Sketch sketchBud(const ShapeCounts& counts, const Hand& hand) {
  constexpr int per_turn = 14;
  const int steps = counts.layers * per_turn;
  Sketch sketch;
  std::array<std::uint32_t, 3> last{};
  for (int k = 0; k <= steps; ++k) {
    const double share = static_cast<double>(k) / steps;  // 0 outside, 1 at the heart
    const double angle = pi / 2 + 2.0 * pi * k / per_turn;
    const double wave = 0.035 * std::sin(k * 2.4) + 0.03 * hand.sway(0, k, 0);
    const double foot = 0.55 * (1.0 - share) + 0.03;
    const double lean = (0.36 + 0.02 * hand.sway(0, k / per_turn, 1)) * (1.0 - 0.8 * share);
    const double top = 0.66 + 0.34 * std::sqrt(share) + wave;
    const double rim = 0.06 * (1.0 - 0.6 * share);
    const std::array now{sketch.add(polar(foot, angle, 0.02), 0.0),
                         sketch.add(polar(foot + lean, angle, top), 0.9),
                         sketch.add(polar(foot + lean + rim, angle, top - 0.05), 1.0)};
    for (std::size_t j = 0; k > 0 && j + 1 < now.size(); ++j)
      sketch.quad(last[j], now[j], now[j + 1], last[j + 1]);
    last = now;
  }
  static constexpr std::array<glm::dvec2, 3> core{{{0.60, 0.0}, {0.50, 0.10}, {0.0, 0.12}}};
  addLathe(sketch, core, 14, 0.0, 0.0);
  return sketch;
}

// Tissue, bunched and fanned out to a half ball: ruffles standing on a round body.
Sketch sketchPompom(const ShapeCounts& counts, const Hand& hand) {
  Sketch sketch;
  for (int ring = 0; ring < counts.layers; ++ring) {
    const double share = static_cast<double>(ring) / counts.layers;
    const double lat = radians(4.0 + 82.0 * share);
    const int folds = std::max(5, static_cast<int>(std::lround(20 * std::cos(lat)))) * 2;
    std::vector<std::uint32_t> foot;
    std::vector<std::uint32_t> rim;
    for (int k = 0; k < folds; ++k) {
      const double angle = pi / 2 + 2.0 * pi * (k + 0.5 * ring) / folds;
      const double out = k % 2 == 0 ? 1.0 : 0.86;
      const double fringe = out + 0.05 * hand.sway(ring, k, 0) + 0.03 * std::sin(k * 2.9 + ring);
      const double rise = lat + (k % 2 == 0 ? 0.10 : 0.0);
      foot.push_back(sketch.add(polar(0.74 * std::cos(lat), angle, 0.74 * std::sin(lat)), 0.1));
      rim.push_back(sketch.add(polar(fringe * std::cos(rise), angle, fringe * std::sin(rise)), 1.0));
    }
    for (std::size_t k = 0; k < foot.size(); ++k) {
      const std::size_t next = (k + 1) % foot.size();
      sketch.quad(foot[k], rim[k], rim[next], foot[next]);
    }
  }
  static constexpr std::array<glm::dvec2, 5> body{
      {{0.70, 0.0}, {0.74, 0.2}, {0.60, 0.50}, {0.30, 0.74}, {0.0, 0.80}}};
  addLathe(sketch, body, 12, 0.0, 0.6);
  return sketch;
}

// A strip pleated like a fan and closed to a disc; a flat button. Each face of a pleat has its own
// corners: the folds are sharp.
Sketch sketchRosette(const ShapeCounts& counts, const Hand& hand) {
  Sketch sketch;
  for (int layer = 0; layer < counts.layers; ++layer) {
    const double size = 1.0 - 0.35 * layer;
    const double base = 0.09 * layer;
    const int pleats = counts.petals;
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

}  // namespace petalproof
