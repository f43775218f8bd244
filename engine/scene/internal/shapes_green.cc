#include "engine/scene/internal/shapes_green.h"

#include "engine/base/units.h"

#include <algorithm>
#include <array>
#include <cmath>

// The lengths, angles and shares below are drawn by eye after blooms as makers build them; no source.
namespace petalproof::scene {
namespace {

// A leaf folded along its middle: from `foot`, flat direction `heading` (radians from +x), rising at
// tilt_deg and curling by curl_deg towards its tip. Its halves stand up at fold_deg from the fold.
struct Blade {
  glm::dvec3 foot{0};
  double heading = 0;
  double length = 1;
  double half_width = 0.2;
  double tilt_deg = 0;
  double curl_deg = 0;
  double fold_deg = 20;
  int rows = 4;        // cross-sections between foot and tip
  double belly = 0.4;  // where it is widest, share of the length
  double veins = 0;    // edges up and down in turn, share of the half width
};

double outline(double t, double belly) {
  const double u = t < belly ? 0.5 * t / belly : 0.5 + 0.5 * (t - belly) / (1.0 - belly);
  return std::pow(std::sin(pi * u), 0.85);
}

// Adds half of a blade: `side` +1 is left of the heading, -1 right. Each half has its own vertices, as the
// fold is sharp.
void addHalf(Sketch& sketch, const Blade& blade, double side) {
  const glm::dvec2 ahead{std::cos(blade.heading), std::sin(blade.heading)};
  const glm::dvec2 left{-ahead.y, ahead.x};
  glm::dvec2 spine{0.0, 0.0};  // along the heading, height
  std::uint32_t last_mid = 0;
  std::uint32_t last_edge = 0;
  for (int k = 0; k <= blade.rows + 1; ++k) {
    const double t = static_cast<double>(k) / (blade.rows + 1);
    const double tilt = radians(blade.tilt_deg + blade.curl_deg * t);
    if (k > 0) spine += blade.length / (blade.rows + 1) * glm::dvec2{std::cos(tilt), std::sin(tilt)};
    const double wide = blade.half_width * outline(t, blade.belly);
    const glm::dvec2 mid = glm::dvec2{blade.foot} + ahead * spine.x;
    const glm::dvec2 edge = mid + left * (side * wide * std::cos(radians(blade.fold_deg)));
    const double z = blade.foot.z + spine.y;
    const double edge_lift = wide * (std::sin(radians(blade.fold_deg)) + (k % 2 == 0 ? 1 : -1) * blade.veins);
    const std::uint32_t m = sketch.add({mid, z}, 0.15 + 0.4 * t);
    if (k == 0) {
      last_mid = last_edge = m;
      continue;
    }
    const bool tip = k == blade.rows + 1;
    const std::uint32_t e = tip ? m : sketch.add({edge, z + edge_lift}, 0.55 + 0.45 * t);
    const auto face = [&](std::uint32_t a, std::uint32_t b, std::uint32_t c) {
      side > 0 ? sketch.triangle(a, b, c) : sketch.triangle(a, c, b);
    };
    if (!tip) face(last_mid, m, e);
    if (last_edge != last_mid || tip) face(last_mid, tip ? m : e, last_edge);
    last_mid = m;
    last_edge = e;
  }
}

void addBlade(Sketch& sketch, const Blade& blade) {
  addHalf(sketch, blade, 1.0);
  addHalf(sketch, blade, -1.0);
}

// Height of a stem that arches over its plate, foot and tip low.
double archAt(double y, double height) { return height * (1.0 - 0.75 * y * y); }

// A folded strip along the y axis from `from` to `to`, tapering: two sides that meet in a ridge.
void addStem(Sketch& sketch, double from, double to, double half_width, double height) {
  constexpr int steps = 8;
  std::array<std::uint32_t, 3> last{};
  for (int k = 0; k <= steps; ++k) {
    const double t = static_cast<double>(k) / steps;
    const double y = from + (to - from) * t;
    const double wide = half_width * (1.0 - 0.7 * t);
    const double z = archAt(y, height);
    const std::array now{sketch.add({-wide, y, std::max(0.0, z - wide)}, 0.1), sketch.add({0, y, z}, 0.4),
                         sketch.add({wide, y, std::max(0.0, z - wide)}, 0.1)};
    for (std::size_t j = 0; k > 0 && j + 1 < now.size(); ++j)
      sketch.quad(last[j], last[j + 1], now[j + 1], now[j]);
    last = now;
  }
}

}  // namespace

// A leaf, folded along its middle, tip curled.
Sketch sketchLeaf(const ShapeCounts&, const Hand& hand) {
  Sketch sketch;
  addBlade(sketch, {.foot = {0, -1, 0.02},
                    .heading = pi / 2,
                    .length = 2.0,
                    .half_width = 0.44,
                    .tilt_deg = 14.0 + 3.0 * hand.sway(0, 0, 0),
                    .curl_deg = -30.0 + 4.0 * hand.sway(0, 0, 1),
                    .fold_deg = 20.0 + 4.0 * hand.sway(0, 0, 2),
                    .rows = 25,
                    .belly = 0.42,
                    .veins = 0.035});
  return sketch;
}

// A stem with paired leaves, each folded along its middle and curled at the tip.
Sketch sketchLeafSpray(const ShapeCounts& counts, const Hand& hand) {
  Sketch sketch;
  addStem(sketch, -1.0, 0.46, 0.025, 0.10);
  const int sides = counts.petals - 1;
  const int rows = counts.petals <= 20 ? 6 : 2;
  const int pairs = std::max(1, (sides + 1) / 2);
  for (int k = 0; k < sides; ++k) {
    const double share = static_cast<double>(k / 2) / pairs;
    const double side = k % 2 == 0 ? 1.0 : -1.0;
    const double y = -0.62 + 1.10 * share + (side < 0 ? 0.06 : 0.0);
    addBlade(sketch, {.foot = {0, y, archAt(y, 0.10)},
                      .heading = pi / 2 + side * radians(48.0 + 5.0 * hand.sway(1, k, 0)),
                      .length = 0.62 - 0.12 * share,
                      .half_width = 0.145,
                      .tilt_deg = 22.0 + 4.0 * hand.sway(1, k, 1),
                      .curl_deg = -36.0,
                      .fold_deg = 24.0,
                      .rows = rows});
  }
  addBlade(sketch, {.foot = {0, 0.40, archAt(0.40, 0.10)},
                    .heading = pi / 2,
                    .length = 0.60,
                    .half_width = 0.15,
                    .tilt_deg = 12.0 + 4.0 * hand.sway(2, 0, 0),
                    .curl_deg = -30.0,
                    .fold_deg = 24.0,
                    .rows = rows});
  return sketch;
}

// A stem with tapering leaflets, longest in the lower third.
Sketch sketchFern(const ShapeCounts& counts, const Hand& hand) {
  static constexpr std::array lengths{0.24, 0.33, 0.36, 0.34, 0.30, 0.24, 0.18, 0.11};
  Sketch sketch;
  addStem(sketch, -1.0, 0.90, 0.022, 0.07);
  for (int k = 0; k < 2 * counts.petals; ++k) {
    const double share = static_cast<double>(k / 2) / std::max(1, counts.petals - 1);
    const double side = k % 2 == 0 ? 1.0 : -1.0;
    const double y = -0.76 + 1.58 * share;
    addBlade(sketch, {.foot = {0, y, archAt(y, 0.07)},
                      .heading = pi / 2 + side * radians(62.0 - 18.0 * share + 4.0 * hand.sway(1, k, 0)),
                      .length = along(lengths, share),
                      .half_width = 0.40 * 1.58 / counts.petals,
                      .tilt_deg = 14.0 + 4.0 * hand.sway(1, k, 1),
                      .curl_deg = -22.0,
                      .fold_deg = 20.0,
                      .rows = counts.petals <= 33 ? 2 : 1,
                      .belly = 0.3});
  }
  addBlade(sketch, {.foot = {0, 0.80, archAt(0.80, 0.07)},
                    .heading = pi / 2,
                    .length = 0.20,
                    .half_width = 0.035,
                    .tilt_deg = -4.0,
                    .curl_deg = -6.0,
                    .fold_deg = 20.0,
                    .rows = 2});
  return sketch;
}

}  // namespace petalproof::scene
