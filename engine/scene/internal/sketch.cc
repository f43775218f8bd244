#include "engine/scene/internal/sketch.h"

#include "engine/base/units.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <map>
#include <utility>

namespace petalproof::scene {
namespace {

// The largest differences of a copy's petals at a variation of 1: by eye, no source.
constexpr double tilt_sway_deg = 4.0;
constexpr double spread_sway = 0.09;  // of the angle between neighbours
constexpr double length_sway = 0.03;

// Middle line of a petal in the upright plane through the axis: radius, height, and the tilt there.
struct Spine {
  double radius = 0;
  double height = 0;
  double tilt = 0;
};

std::vector<Spine> spineOf(const Petal& petal) {
  std::vector<Spine> spine{{petal.foot_radius, petal.foot_height, radians(petal.tilt_deg)}};
  for (std::size_t k = 1; k < petal.rows.size(); ++k) {
    const double tilt = radians(petal.tilt_deg + petal.rows[k].curl_deg);
    const double step = petal.length * (petal.rows[k].along - petal.rows[k - 1].along);
    const Spine& last = spine.back();
    spine.push_back({last.radius + step * std::cos(tilt), last.height + step * std::sin(tilt), tilt});
  }
  return spine;
}

// Towards the petal's upper face, in (radius, height): the mean of the stretches before and after.
glm::dvec2 upwards(std::span<const Spine> spine, std::size_t k) {
  const double before = spine[k].tilt;
  const double after = k + 1 < spine.size() ? spine[k + 1].tilt : before;
  const double tilt = k == 0 ? after : 0.5 * (before + after);
  return {-std::sin(tilt), std::cos(tilt)};
}

glm::dvec3 petalPoint(const Petal& petal, const PetalRow& row, const Spine& at, const glm::dvec2& up,
                      double t, int column) {
  const double half_width = row.half_width * petal.width;
  const double ruffle = row.ruffle * petal.width * (column % 2 == 0 ? 1.0 : -1.0);
  const double lift = row.cup * half_width * t * t + ruffle + petal.skew * half_width * t;
  const double across = half_width * t;
  const double back = row.round * petal.length * t * t;
  double x = at.radius;
  double y = across;
  constexpr double least_radius = 1e-3;  // nearer to the axis there is nothing to bend around
  if (petal.wrap > 0 && at.radius > least_radius) {
    const double bend = at.radius / petal.wrap;
    x = at.radius - bend * (1.0 - std::cos(across / bend));
    y = bend * std::sin(across / bend);
  }
  // `up` turned back by a quarter leads towards the foot.
  return {x + up.x * lift - up.y * back, y, at.height + up.y * lift + up.x * back};
}

glm::dvec3 turned(const glm::dvec3& p, double angle) {
  const double c = std::cos(angle);
  const double s = std::sin(angle);
  return {c * p.x - s * p.y, s * p.x + c * p.y, p.z};
}

// Joins two sections of a petal, or of a lathe opened up; either may be a point.
void joinRows(Sketch& sketch, std::span<const std::uint32_t> low, std::span<const std::uint32_t> high) {
  const std::size_t columns = std::max(low.size(), high.size());
  for (std::size_t j = 0; j + 1 < columns; ++j) {
    const std::uint32_t a = low.size() == 1 ? low[0] : low[j];
    const std::uint32_t d = low.size() == 1 ? low[0] : low[j + 1];
    const std::uint32_t b = high.size() == 1 ? high[0] : high[j];
    const std::uint32_t c = high.size() == 1 ? high[0] : high[j + 1];
    if (low.size() == 1)
      sketch.triangle(a, b, c);
    else if (high.size() == 1)
      sketch.triangle(a, b, d);
    else if (j < columns / 2)
      sketch.quad(a, b, c, d);
    else
      sketch.quad(b, c, d, a);
  }
}

}  // namespace

std::uint32_t Sketch::add(const glm::dvec3& point, double point_tint) {
  points.push_back(point);
  tint.push_back(static_cast<float>(std::clamp(point_tint, 0.0, 1.0)));
  return static_cast<std::uint32_t>(points.size() - 1);
}

void Sketch::quad(std::uint32_t a, std::uint32_t b, std::uint32_t c, std::uint32_t d) {
  triangle(a, b, c);
  triangle(a, c, d);
}

double Hand::sway(int ring, int petal, int difference) const {
  const auto part = [](int value) { return static_cast<std::uint64_t>(value); };
  return variation * (2.0 * unitFromHash(hashOf({hash, part(ring), part(petal), part(difference)})) - 1.0);
}

void addPetal(Sketch& sketch, const Petal& petal, double angle) {
  assert(petal.columns % 2 == 1 && petal.rows.size() >= 2);
  const std::vector<Spine> spine = spineOf(petal);
  std::vector<std::uint32_t> below;
  for (std::size_t k = 0; k < petal.rows.size(); ++k) {
    const PetalRow& row = petal.rows[k];
    const int columns = row.half_width > 0 ? petal.columns : 1;
    std::vector<std::uint32_t> here;
    for (int j = 0; j < columns; ++j) {
      const double t = columns == 1 ? 0.0 : 2.0 * j / (columns - 1) - 1.0;
      const glm::dvec3 p = petalPoint(petal, row, spine[k], upwards(spine, k), t, j);
      here.push_back(sketch.add(turned(p, angle), row.along));
    }
    if (k > 0) joinRows(sketch, below, here);
    below = here;
  }
}

void addRing(Sketch& sketch, const Ring& ring, const Hand& hand) {
  const double step = 2.0 * pi / ring.count;
  for (int k = 0; k < ring.count; ++k) {
    Petal petal = ring.petal;
    petal.tilt_deg += tilt_sway_deg * hand.sway(ring.number, k, 0);
    petal.length *= 1.0 + length_sway * hand.sway(ring.number, k, 1);
    addPetal(sketch, petal, ring.start + step * (k + spread_sway * hand.sway(ring.number, k, 2)));
  }
}

void addLathe(Sketch& sketch, std::span<const glm::dvec2> profile, int segments, double tint_bottom,
              double tint_top) {
  std::vector<std::uint32_t> below;
  for (std::size_t k = 0; k < profile.size(); ++k) {
    const double share = static_cast<double>(k) / static_cast<double>(profile.size() - 1);
    const double tint = tint_bottom + (tint_top - tint_bottom) * share;
    const int count = profile[k].x > 0 ? segments : 1;
    std::vector<std::uint32_t> here;
    for (int j = 0; j < count; ++j) {
      const double angle = pi / 2 + 2.0 * pi * j / segments;
      const glm::dvec3 p{profile[k].x * std::cos(angle), profile[k].x * std::sin(angle), profile[k].y};
      here.push_back(sketch.add(p, tint));
    }
    if (count > 1) here.push_back(here.front());
    // A petal's rows run outwards, a lathe's inwards: reversing the points across keeps the winding.
    std::reverse(here.begin(), here.end());
    if (k > 0) joinRows(sketch, below, here);
    below = here;
  }
}

std::vector<int> thinned(std::vector<int> petals, int most_petals) {
  const int inner = static_cast<int>(petals.size()) - 1;
  const int most_inner = inner > 0 ? std::max(3, (most_petals - petals.front()) / inner) : 0;
  for (std::size_t ring = 1; ring < petals.size(); ++ring) petals[ring] = std::min(petals[ring], most_inner);
  return petals;
}

int PetalDetail::triangles() const {
  int count = 0;
  for (std::size_t k = 1; k < rows.size(); ++k) {
    const bool pointed = rows[k - 1].half_width == 0 || rows[k].half_width == 0;
    count += (pointed ? 1 : 2) * (columns - 1);
  }
  return count;
}

Detail detailFor(std::vector<int> planned, std::span<const PetalDetail> levels, int others) {
  return detailFor(std::move(planned), levels.size(), others,
                   [&](std::size_t level, std::size_t) { return levels[level].triangles(); });
}

void splitTriangles(Sketch& sketch) {
  std::map<std::pair<std::uint32_t, std::uint32_t>, std::uint32_t> middles;
  const auto middle = [&](std::uint32_t a, std::uint32_t b) {
    const auto [found, is_new] = middles.try_emplace(std::minmax(a, b), 0);
    if (is_new)
      found->second =
          sketch.add(0.5 * (sketch.points[a] + sketch.points[b]), 0.5 * (sketch.tint[a] + sketch.tint[b]));
    return found->second;
  };
  const std::vector<Triangle> whole = std::exchange(sketch.triangles, {});
  for (const auto& [a, b, c] : whole) {
    const std::uint32_t ab = middle(a, b);
    const std::uint32_t bc = middle(b, c);
    const std::uint32_t ca = middle(c, a);
    sketch.triangle(a, ab, ca);
    sketch.triangle(b, bc, ab);
    sketch.triangle(c, ca, bc);
    sketch.triangle(ab, bc, ca);
  }
}

double along(std::span<const double> table, double t) {
  const double place = std::clamp(t, 0.0, 1.0) * static_cast<double>(table.size() - 1);
  const auto k = std::min(static_cast<std::size_t>(place), table.size() - 1);
  if (k + 1 == table.size()) return table.back();
  const double share = place - static_cast<double>(k);
  return table[k] * (1.0 - share) + table[k + 1] * share;
}

double ringShare(int number, int count) {
  return count <= 1 ? 0.0 : static_cast<double>(number) / (count - 1);
}

}  // namespace petalproof::scene
