#include "engine/scene/internal/shapes_open.h"

#include "engine/base/units.h"

#include <algorithm>
#include <array>
#include <cmath>

// The lengths, angles and shares below are drawn by eye after blooms as makers build them; no source.
namespace petalproof::scene {
namespace {

// The half width at which `count` petals that reach out to `reach` just touch at their tips.
double touchingWidth(double reach, int count) {
  return std::min(reach * std::tan(pi / std::max(count, 3)), 0.8 * reach);
}

// Every other ring is turned by half a petal.
double ringStart(int number, int count) { return pi / 2 + (number % 2 == 0 ? 0.0 : pi / count); }

// A cone of card: closed at its foot, open outwards, with the card's corner as a pointed lower lip.
void addCone(Sketch& sketch, double foot_height, double length, double tilt_deg, double radius, double angle,
             int sides) {
  const double tilt = radians(tilt_deg);
  const auto place = [&](double out, double across, double up) {
    const double r = 0.10 + out * std::cos(tilt) - up * std::sin(tilt);
    const double z = foot_height + out * std::sin(tilt) + up * std::cos(tilt);
    return glm::dvec3{r * std::cos(angle) - across * std::sin(angle),
                      r * std::sin(angle) + across * std::cos(angle), z};
  };
  const std::uint32_t foot = sketch.add(place(0, 0, 0), 0.0);
  std::vector<std::uint32_t> mouth;
  for (int k = 0; k < sides; ++k) {
    const double a = 2.0 * pi * k / sides - pi / 2;
    const double lip = 0.90 - 0.10 * std::sin(a);
    mouth.push_back(sketch.add(place(length * lip, radius * std::cos(a), radius * std::sin(a)), 1.0));
  }
  for (std::size_t k = 0; k < mouth.size(); ++k)
    sketch.triangle(foot, mouth[k], mouth[(k + 1) % mouth.size()]);
}

}  // namespace

// Cupped, pointed petals on a disc, each ring about 0.78 of the ring below and steeper; a button.
Sketch sketchDahlia(const ShapeCounts& counts, const Hand& hand) {
  static constexpr std::array tilts{8.0, 22.0, 38.0, 55.0, 70.0};
  static constexpr std::array<PetalRow, 5> fine{
      {{0, 0}, {0.42, 0.70, 0.60, -4}, {0.76, 0.95, 0.45, 0}, {0.90, 0.56, 0.40, 6}, {1.0, 0, 0, 14}}};
  static constexpr std::array<PetalRow, 4> plain{
      {{0, 0}, {0.45, 0.72, 0.55, -4}, {0.78, 0.88, 0.42, 0}, {1.0, 0, 0, 12}}};
  static constexpr std::array<PetalRow, 3> sparse{{{0, 0}, {0.66, 0.9, 0.5}, {1.0, 0, 0, 6}}};
  // The two outer rings show most: they have the finest petals.
  const std::array<std::array<PetalDetail, 2>, 3> levels{
      {{{{fine}, {plain}}}, {{{plain}, {plain}}}, {{{sparse}, {sparse}}}}};
  const auto drawn = [&](std::size_t level, std::size_t ring) { return levels[level][ring < 2 ? 0 : 1]; };
  const Detail detail =
      detailFor(ringsOf(counts), levels.size(), 24,
                [&](std::size_t level, std::size_t ring) { return drawn(level, ring).triangles(); });
  Sketch sketch;
  double scale = 1;
  for (int k = 0; k < counts.layers; ++k, scale *= 0.78) {
    const int petals = detail.petals[static_cast<std::size_t>(k)];
    const double share = ringShare(k, counts.layers);
    const double foot = 0.10 * scale;
    const Petal petal{.foot_radius = foot,
                      .foot_height = 0.03 + 0.16 * share,
                      .length = scale - foot,
                      .width = touchingWidth(scale, petals),
                      .tilt_deg = along(tilts, share),
                      .rows = drawn(detail.level, static_cast<std::size_t>(k)).rows};
    addRing(sketch, {petal, petals, ringStart(k, petals), k}, hand);
  }
  static constexpr std::array<glm::dvec2, 3> core{{{0.32, 0.0}, {0.13, 0.26}, {0.0, 0.34}}};
  addLathe(sketch, core, 8, 0.0, 0.7);
  return sketch;
}

// Cards rolled into cones, open ends outwards, three rings; a button.
Sketch sketchConeDahlia(const ShapeCounts& counts, const Hand& hand) {
  static constexpr std::array tilts{10.0, 25.0, 45.0};
  static constexpr std::array lengths{0.90, 0.70, 0.46};
  constexpr int most_sides = 8;
  constexpr int least_sides = 4;
  const Detail detail =
      detailFor(ringsOf(counts), most_sides - least_sides + 1, 70,
                [](std::size_t level, std::size_t) { return most_sides - static_cast<int>(level); });
  const int sides = most_sides - static_cast<int>(detail.level);
  Sketch sketch;
  for (int ring = 0; ring < counts.layers; ++ring) {
    const int petals = detail.petals[static_cast<std::size_t>(ring)];
    const double share = ringShare(ring, counts.layers);
    const double length = along(lengths, share);
    const double radius = 0.80 * std::min(0.95 * length * std::tan(pi / std::max(petals, 3)), 0.4 * length);
    for (int k = 0; k < petals; ++k) {
      const double step = 2.0 * pi / petals;
      const double angle = ringStart(ring, petals) + step * (k + 0.07 * hand.sway(ring, k, 2));
      const double tilt = along(tilts, share) + 3.0 * hand.sway(ring, k, 0);
      const double longer = 1.0 + 0.03 * hand.sway(ring, k, 1);
      addCone(sketch, 0.05 + 0.14 * share, length * longer, tilt, radius, angle, sides);
    }
  }
  static constexpr std::array<glm::dvec2, 5> core{
      {{0.34, 0.0}, {0.22, 0.20}, {0.15, 0.30}, {0.10, 0.36}, {0.0, 0.38}}};
  addLathe(sketch, core, 10, 0.0, 0.8);
  return sketch;
}

// Teardrop petals, slit at the foot so that they cup, three or four rings; a fringed centre.
Sketch sketchPetalBloom(const ShapeCounts& counts, const Hand& hand) {
  static constexpr std::array tilts{12.0, 30.0, 50.0};
  static constexpr std::array scales{1.0, 0.76, 0.52};
  static constexpr std::array<PetalRow, 5> rows{
      {{0, 0}, {0.38, 0.58, 0.35, 8}, {0.66, 0.73, 0.45, 0}, {0.87, 0.54, 0.40, -14}, {1.0, 0, 0, -24}}};
  static constexpr std::array<PetalRow, 4> plain{
      {{0, 0}, {0.46, 0.66, 0.40, 4}, {0.84, 0.58, 0.42, -12}, {1.0, 0, 0, -24}}};
  static constexpr std::array<PetalRow, 3> sparse{{{0, 0}, {0.66, 0.73, 0.45, 0}, {1.0, 0, 0, -20}}};
  const std::array<PetalDetail, 4> levels{{{rows, 5}, {rows, 3}, {plain, 3}, {sparse, 3}}};
  const Detail detail = detailFor(ringsOf(counts), levels, 84);
  Sketch sketch;
  for (int k = 0; k < counts.layers; ++k) {
    const int petals = detail.petals[static_cast<std::size_t>(k)];
    const double share = ringShare(k, counts.layers);
    const double scale = along(scales, share);
    const double foot = 0.10 * scale;
    const Petal petal{.foot_radius = foot,
                      .foot_height = 0.03 + 0.10 * share,
                      .length = scale - foot,
                      .width = touchingWidth(scale, petals),
                      .tilt_deg = along(tilts, share),
                      .columns = levels[detail.level].columns,
                      .rows = levels[detail.level].rows};
    addRing(sketch, {petal, petals, ringStart(k, petals), k}, hand);
  }
  static constexpr std::array<PetalRow, 2> fringe{{{0, 1.0}, {1.0, 0}}};
  for (int ring = 0; ring < 2; ++ring) {
    const Petal strand{.foot_radius = 0.09 - 0.05 * ring,
                       .foot_height = 0.16,
                       .length = 0.20,
                       .width = 0.028,
                       .tilt_deg = 62.0 + 18.0 * ring,
                       .rows = fringe};
    addRing(sketch, {strand, 14 - 6 * ring, 0.3 * ring, 100 + ring}, hand);
  }
  static constexpr std::array<glm::dvec2, 4> core{{{0.30, 0.0}, {0.18, 0.12}, {0.11, 0.20}, {0.0, 0.24}}};
  addLathe(sketch, core, 8, 0.0, 0.4);
  return sketch;
}

// Long narrow petals, one or two rings; a domed centre.
Sketch sketchDaisy(const ShapeCounts& counts, const Hand& hand) {
  static constexpr std::array<PetalRow, 5> rows{
      {{0, 0.30}, {0.45, 0.50, 0.5, 6}, {0.80, 0.68, 0.4, 0}, {0.95, 0.46, 0.3, -5}, {1.0, 0, 0, -8}}};
  static constexpr std::array<PetalRow, 3> sparse{{{0, 0.30}, {0.85, 0.66, 0.4, 3}, {1.0, 0, 0, -6}}};
  static constexpr std::array<PetalRow, 3> pointed{{{0, 0}, {0.80, 0.68, 0.4, 3}, {1.0, 0, 0, -6}}};
  const std::array<PetalDetail, 3> levels{{{rows}, {sparse}, {pointed}}};
  const Detail detail = detailFor(ringsOf(counts), levels, 98);
  Sketch sketch;
  double scale = 1;
  for (int k = 0; k < counts.layers; ++k, scale *= 0.84) {
    const int petals = detail.petals[static_cast<std::size_t>(k)];
    const Petal petal{.foot_radius = 0.14,
                      .foot_height = 0.03 + 0.03 * k,
                      .length = std::max(scale - 0.14, 0.12),
                      .width = std::min(0.13, touchingWidth(1.0, petals) * 0.5),
                      .tilt_deg = 5.0 + 10.0 * k,
                      .rows = levels[detail.level].rows};
    addRing(sketch, {petal, petals, ringStart(k, petals), k}, hand);
  }
  static constexpr std::array<glm::dvec2, 5> dome{
      {{0.27, 0.0}, {0.27, 0.10}, {0.23, 0.19}, {0.13, 0.255}, {0.0, 0.28}}};
  addLathe(sketch, dome, 14, 0.0, 1.0);
  return sketch;
}

}  // namespace petalproof::scene
