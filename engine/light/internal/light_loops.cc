#include "engine/light/internal/light_loops.h"

#include "engine/light/internal/lanes.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>

namespace petalproof::light {
namespace {

// A surface seen more edge-on than this counts as this steep.
constexpr float least_facing = 0.005F;
// More than a map's cell where there is nothing, less than any other.
constexpr float least_steps = -32500;
static_assert(least_steps > DepthMap::nothing && least_steps < -DepthMap::most_steps);

// A row of the numbers of a strip.
template <class T>
using Strip = std::array<T, strip_spots>;

// Where the rays of a strip meet a map, and what each of the four cells around may hold at most.
struct Meeting {
  Strip<std::int32_t> cell;  // the lower left one
  Strip<float> s;            // from its middle to the ray, of a cell
  Strip<float> t;
  Strip<float> most;  // at the ray itself
  Strip<float> most_per_s;
  Strip<float> most_per_t;
  Strip<float> facing;

  void clear(std::size_t k) {
    cell[k] = 0;
    s[k] = t[k] = most[k] = most_per_s[k] = most_per_t[k] = facing[k] = 0;
  }
};

PETALPROOF_PART void meet(const MapOfLamp& lamp, const VectorStrip& p, const VectorStrip& f, int count,
                          Meeting& found) {
  const float near = lamp.near_mm * std::abs(lamp.towards.z * lamp.steps_per_mm);
  const float cell_steps = lamp.cell_mm * lamp.cell_mm * lamp.steps_per_mm;  // `across` is in cells too
  for (int k = 0; k < count; ++k) {
    const float u = lamp.across.x * p.x[k] + lamp.across.y * p.y[k] + lamp.across.z * p.z[k] - lamp.first_u;
    const float v = lamp.up.x * p.x[k] + lamp.up.y * p.y[k] + lamp.up.z * p.z[k] - lamp.first_v;
    const auto column = static_cast<std::int32_t>(u);
    const auto row = static_cast<std::int32_t>(v);
    found.cell[static_cast<std::size_t>(k)] = row * lamp.stride + column;
    found.s[static_cast<std::size_t>(k)] = u - static_cast<float>(column);
    found.t[static_cast<std::size_t>(k)] = v - static_cast<float>(row);
  }
  for (int k = 0; k < count; ++k) {
    const auto at = static_cast<std::size_t>(k);
    const float fu = lamp.across.x * f.x[k] + lamp.across.y * f.y[k] + lamp.across.z * f.z[k];
    const float fv = lamp.up.x * f.x[k] + lamp.up.y * f.y[k] + lamp.up.z * f.z[k];
    const float ft = lamp.towards.x * f.x[k] + lamp.towards.y * f.y[k] + lamp.towards.z * f.z[k];
    const float steep = ft < 0 ? std::min(ft, -least_facing) : std::max(ft, least_facing);
    // The spot's own plane, one cell on: so much farther along the ray, and its distance from the board.
    const float slope = lamp.towards.z / steep;
    found.facing[at] = ft;
    found.most_per_s[at] = cell_steps * (lamp.across.z - fu * slope);
    found.most_per_t[at] = cell_steps * (lamp.up.z - fv * slope);
    found.most[at] = p.z[k] * lamp.steps_per_mm + near;
  }
  for (int k = count; k % lanes != 0; ++k) found.clear(static_cast<std::size_t>(k));
}

}  // namespace

MapOfLamp::MapOfLamp(const RayFrame& frame, const DepthMap& map, float near)
    : across(frame.across / map.cell_mm()),
      up(frame.up / map.cell_mm()),
      towards(frame.towards),
      first_u(static_cast<float>(map.left()) + 0.5F),
      first_v(static_cast<float>(map.bottom()) + 0.5F),
      cell_mm(map.cell_mm()),
      steps_per_mm(frame.towards.z < 0 ? -map.steps_per_mm() : map.steps_per_mm()),
      near_mm(near),
      cells(map.cells()),
      stride(map.stride()) {}

PETALPROOF_WIDE void reaching(const MapOfLamp& lamp, const VectorStrip& points, const VectorStrip& faces,
                              const std::uint8_t* blocked, int bit, int count, float* open) {
  Meeting found;
  meet(lamp, points, faces, count, found);
  const int whole = (count + lanes - 1) / lanes * lanes;
  Strip<std::int32_t> low;  // two cells in each
  Strip<std::int32_t> high;
  for (int k = 0; k < whole; ++k) {
    const DepthMap::Steps* const cells = lamp.cells + found.cell[static_cast<std::size_t>(k)];
    std::memcpy(&low[static_cast<std::size_t>(k)], cells, sizeof(std::int32_t));
    std::memcpy(&high[static_cast<std::size_t>(k)], cells + lamp.stride, sizeof(std::int32_t));
  }
  const std::int32_t mask = 1 << bit;
  for (int k = 0; k < count; k += lanes) {
    const auto at = static_cast<std::size_t>(k);
    Floats s, t, a, per_s, per_t, facing;
    Ints lower, upper;
    std::array<std::uint8_t, lanes> bytes;
    load(&found.s[at], s);
    load(&found.t[at], t);
    load(&found.most[at], a);
    load(&found.most_per_s[at], per_s);
    load(&found.most_per_t[at], per_t);
    load(&found.facing[at], facing);
    load(&low[at], lower);
    load(&high[at], upper);
    std::memcpy(bytes.data(), blocked + k, sizeof bytes);
    a -= s * per_s + t * per_t;
    const Floats none{};
    Floats b = a + per_s;
    Floats c = a + per_t;
    Floats d = b + per_t;
    const Floats least = none + least_steps;
    a = a > least ? a : least;
    b = b > least ? b : least;
    c = c > least ? c : least;
    d = d > least ? d : least;
    Floats share = __builtin_convertvector((lower << 16) >> 16, Floats) < a ? (1 - s) * (1 - t) : none;
    share += __builtin_convertvector(lower >> 16, Floats) < b ? s * (1 - t) : none;
    share += __builtin_convertvector((upper << 16) >> 16, Floats) < c ? (1 - s) * t : none;
    share += __builtin_convertvector(upper >> 16, Floats) < d ? s * t : none;
    const Ints near{bytes[0], bytes[1], bytes[2], bytes[3], bytes[4], bytes[5], bytes[6], bytes[7]};
    const Ints kept_away = ((near & mask) != 0) & (facing > none);
    share = kept_away ? none : share;
    store(share, open + k);
  }
}

PETALPROOF_WIDE void addDome(const glm::vec3& towards, float weight, const VectorStrip& n,
                             const VectorStrip& f, const float* open, int count, const DomeSums& sums) {
  for (int k = 0; k < count; ++k) {
    const float smooth = weight * (towards.x * n.x[k] + towards.y * n.y[k] + towards.z * n.z[k]);
    const float face = towards.x * f.x[k] + towards.y * f.y[k] + towards.z * f.z[k];
    const float before = face > 0 ? std::max(smooth, 0.0F) : 0.0F;
    const float behind = face < 0 ? std::max(-smooth, 0.0F) : 0.0F;
    sums.all[k] += before;
    sums.open[k] += before * open[k];
    sums.all_behind[k] += behind;
    sums.open_behind[k] += behind * open[k];
  }
}

PETALPROOF_WIDE void addKey(const glm::vec3& towards, float weight, const VectorStrip& n, const float* open,
                            int count, const KeySums& sums) {
  for (int k = 0; k < count; ++k) {
    const float c = weight * (towards.x * n.x[k] + towards.y * n.y[k] + towards.z * n.z[k]);
    const float before = std::max(c, 0.0F);
    sums.open[k] += before * open[k];
    sums.hidden[k] += before * (1 - open[k]);
    sums.behind[k] += std::max(-c, 0.0F) * open[k];
  }
}

LampGroups::LampGroups(std::span<const glm::vec3> towards) {
  const std::size_t groups = (towards.size() + lamp_group - 1) / lamp_group;
  for (std::size_t group = 0; group < groups; ++group) {
    glm::vec3 middle(0.0F);
    for (std::size_t k = 0; k < lamp_group; ++k) {
      const glm::vec3& d = towards[std::min(group * lamp_group + k, towards.size() - 1)];
      lamps.push_back(d);
      middle += d / static_cast<float>(lamp_group);
    }
    float radius = 0;
    for (std::size_t k = group * lamp_group; k < lamps.x.size(); ++k) {
      radius = std::max(radius, glm::distance(middle, lamps.at(k)));
    }
    middles.push_back(middle);
    radii.push_back(radius);
  }
  while (radii.size() % lanes != 0) {  // of no lamp: nothing is within less than no distance
    middles.push_back({});
    radii.push_back(-1);
  }
}

namespace {

// The three planes through a place and a blade's edges, turned so that a direction that is on the positive
// side of all meets the blade; `distance`: of the blade's own plane, times its normal's length.
struct BladePlanes {
  glm::vec3 ab{0};
  glm::vec3 bc{0};
  glm::vec3 ca{0};
  glm::vec3 lengths{0};  // of the three
  float distance = 0;
};

PETALPROOF_PART BladePlanes cornerOf(const Blade& blade, const glm::vec3& place) {
  const glm::vec3 a = blade.a - place;
  const glm::vec3 b = blade.b - place;
  const glm::vec3 c = blade.c - place;
  const glm::vec3 bc = glm::cross(b, c);
  const float distance = glm::dot(a, bc);
  const float sign = distance < 0 ? -1.0F : 1.0F;
  const glm::vec3 ab = glm::cross(a, b);
  const glm::vec3 ca = glm::cross(c, a);
  const glm::vec3 squares(glm::dot(ab, ab), glm::dot(bc, bc), glm::dot(ca, ca));
  return {sign * ab, sign * bc, sign * ca, glm::sqrt(squares), sign * distance};
}

struct Directions {
  Floats x;
  Floats y;
  Floats z;
};

PETALPROOF_PART void loadDirections(const VectorRow& row, std::size_t first, Directions& to) {
  load(&row.x[first], to.x);
  load(&row.y[first], to.y);
  load(&row.z[first], to.z);
}

PETALPROOF_PART void dots(const glm::vec3& v, const Directions& d, Floats& to) {
  to = v.x * d.x + v.y * d.y + v.z * d.z;
}

// Those of eight groups that have a lamp which may be inside the corner: it is no farther than the group's
// radius from its middle.
PETALPROOF_PART unsigned groupsInside(const BladePlanes& corner, const LampGroups& lamps, std::size_t first) {
  Directions middles;
  Floats radii, ab, bc, ca;
  loadDirections(lamps.middles, first, middles);
  load(&lamps.radii[first], radii);
  dots(corner.ab, middles, ab);
  dots(corner.bc, middles, bc);
  dots(corner.ca, middles, ca);
  ab += radii * corner.lengths.x;
  bc += radii * corner.lengths.y;
  ca += radii * corner.lengths.z;
  const Ints inside = (ab >= 0) & (bc >= 0) & (ca >= 0);
  return bitsOf(inside);
}

PETALPROOF_PART unsigned lampsBehind(const BladePlanes& corner, const LampGroups& lamps, std::size_t group,
                                     float reach_mm) {
  Directions towards;
  Floats ab, bc, ca;
  loadDirections(lamps.lamps, group * lamp_group, towards);
  dots(corner.ab, towards, ab);
  dots(corner.bc, towards, bc);
  dots(corner.ca, towards, ca);
  const Ints inside = (ab >= 0) & (bc >= 0) & (ca >= 0) & (reach_mm * (ab + bc + ca) > corner.distance);
  return bitsOf(inside);
}

// How far a number is outside [low, high].
PETALPROOF_PART void outside(const float* low, float at, const float* high, Floats& to) {
  Floats from, until;
  load(low, from);
  load(high, until);
  const Floats before = from - at;
  const Floats beyond = at - until;
  to = before > beyond ? before : beyond;
  to = to > 0 ? to : Floats{};
}

PETALPROOF_PART void heights(const VectorRow& corners, std::size_t first, const NearAbove& near, Floats& to) {
  Directions corner;
  loadDirections(corners, first, corner);
  to = near.normal.x * (corner.x - near.place.x) + near.normal.y * (corner.y - near.place.y) +
       near.normal.z * (corner.z - near.place.z);
}

}  // namespace

PETALPROOF_WIDE void bladesAbove(const BladeRows& blades, const NearAbove& near, std::uint8_t* above) {
  const float reach = near.reach_mm * near.reach_mm;
  for (std::size_t first = 0; first < blades.size(); first += lanes) {
    Floats x, y, z, a, b, c;
    outside(&blades.low.x[first], near.place.x, &blades.high.x[first], x);
    outside(&blades.low.y[first], near.place.y, &blades.high.y[first], y);
    outside(&blades.low.z[first], near.place.z, &blades.high.z[first], z);
    heights(blades.a, first, near, a);
    heights(blades.b, first, near, b);
    heights(blades.c, first, near, c);
    const Ints rises = (a > near.touching_mm) | (b > near.touching_mm) | (c > near.touching_mm);
    const Ints counts = (x * x + y * y + z * z < reach) & rises;
    *above++ = static_cast<std::uint8_t>(bitsOf(counts));
  }
}

PETALPROOF_WIDE void findBlocked(std::span<const Blade> blades, const glm::vec3& place,
                                 const LampGroups& lamps, float reach_mm, std::uint8_t* blocked,
                                 std::size_t stride) {
  for (const Blade& blade : blades) {
    const BladePlanes corner = cornerOf(blade, place);
    for (std::size_t first = 0; first < lamps.radii.size(); first += lanes) {
      for (unsigned left = groupsInside(corner, lamps, first); left != 0; left &= left - 1) {
        const std::size_t group = first + static_cast<std::size_t>(std::countr_zero(left));
        std::uint8_t& bits = blocked[group * stride];
        bits = static_cast<std::uint8_t>(bits | lampsBehind(corner, lamps, group, reach_mm));
      }
    }
  }
}

}  // namespace petalproof::light
