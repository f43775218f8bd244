#include "engine/scene/person.h"

#include "engine/base/units.h"

#include <array>
#include <cmath>
#include <span>

namespace petalproof {
namespace {

// An ellipse of the body, level. Shares of the height.
struct Section {
  double x = 0;
  double y = 0;
  double z = 0;
  double half_breadth = 0;
  double half_depth = 0;
};

// Proportions: C. C. Gordon et al., "2012 Anthropometric Survey of U.S. Army Personnel: Methods and
// Summary Statistics", NATICK/TR-15/007, 2014; means of men and women from the public data, as shares of
// the mean stature (1756.2 and 1628.5 mm), the two averaged:
//   shoulder (acromial) height 0.820, biacromial breadth 0.231, bideltoid breadth 0.284,
//   chest breadth 0.165, hip breadth 0.207, head breadth 0.089, head length 0.115.
// Depths of trunk and limbs and the heights of crotch, knee, elbow and wrist: common practice of figure
// drawing, no source.
constexpr double head_half_breadth = 0.0446;
constexpr double head_half_length = 0.0575;

constexpr std::array<Section, 20> trunk_and_head{{
    {0, 0.450, 0.000, 0.050, 0.040},
    {0, 0.470, 0.000, 0.092, 0.058},
    {0, 0.510, -0.004, 0.1035, 0.068},
    {0, 0.555, -0.002, 0.096, 0.064},
    {0, 0.605, 0.004, 0.079, 0.056},
    {0, 0.655, 0.006, 0.077, 0.057},
    {0, 0.700, 0.006, 0.0815, 0.066},
    {0, 0.740, 0.004, 0.0825, 0.068},
    {0, 0.785, 0.000, 0.094, 0.060},
    {0, 0.815, -0.004, 0.092, 0.048},
    {0, 0.835, -0.006, 0.050, 0.036},
    {0, 0.850, -0.004, 0.034, 0.033},
    {0, 0.868, 0.000, 0.031, 0.034},
    {0, 0.880, 0.008, 0.034, 0.044},
    {0, 0.895, 0.008, 0.0385, 0.052},
    {0, 0.925, 0.006, head_half_breadth, head_half_length},
    {0, 0.955, 0.004, head_half_breadth, head_half_length},
    {0, 0.980, 0.002, 0.036, 0.046},
    {0, 0.994, 0.001, 0.020, 0.026},
    {0, 1.000, 0.000, 0.000, 0.000},
}};

constexpr std::array<Section, 12> right_arm{{
    {0.100, 0.822, -0.006, 0.000, 0.000},
    {0.1085, 0.815, -0.006, 0.022, 0.026},
    {0.1155, 0.790, -0.006, 0.0265, 0.033},
    {0.1160, 0.750, -0.006, 0.0255, 0.030},
    {0.1180, 0.690, -0.008, 0.0225, 0.026},
    {0.1210, 0.630, -0.008, 0.0195, 0.023},
    {0.1230, 0.590, -0.002, 0.0205, 0.023},
    {0.1260, 0.530, 0.006, 0.0165, 0.018},
    {0.1280, 0.490, 0.012, 0.0130, 0.016},
    {0.1285, 0.455, 0.016, 0.0135, 0.026},
    {0.1270, 0.420, 0.018, 0.0110, 0.022},
    {0.1260, 0.385, 0.018, 0.000, 0.000},
}};

constexpr std::array<Section, 11> right_leg{{
    {0.050, 0.520, -0.004, 0.000, 0.000},
    {0.052, 0.500, -0.004, 0.050, 0.060},
    {0.053, 0.460, -0.004, 0.0500, 0.058},
    {0.053, 0.380, 0.000, 0.0430, 0.050},
    {0.052, 0.285, 0.000, 0.0320, 0.036},
    {0.052, 0.255, 0.000, 0.0300, 0.034},
    {0.052, 0.200, -0.008, 0.0310, 0.036},
    {0.052, 0.120, -0.008, 0.0240, 0.027},
    {0.052, 0.055, -0.006, 0.0190, 0.022},
    {0.052, 0.040, -0.002, 0.0200, 0.028},
    {0.052, 0.030, 0.000, 0.000, 0.000},
}};

// A foot, its sections upright: y and z change places below.
constexpr std::array<Section, 8> right_foot{{
    {0.052, -0.046, 0.020, 0.000, 0.000},
    {0.052, -0.040, 0.022, 0.018, 0.022},
    {0.052, -0.010, 0.027, 0.022, 0.027},
    {0.054, 0.025, 0.023, 0.023, 0.023},
    {0.057, 0.060, 0.016, 0.027, 0.016},
    {0.058, 0.085, 0.013, 0.025, 0.013},
    {0.058, 0.100, 0.011, 0.016, 0.011},
    {0.058, 0.106, 0.010, 0.000, 0.000},
}};

constexpr int around = 14;

std::vector<std::uint32_t> addSection(Mesh& mesh, const Section& at, double scale, bool upright,
                                      double side) {
  std::vector<std::uint32_t> ring;
  const int count = at.half_breadth > 0 ? around : 1;
  for (int k = 0; k < count; ++k) {
    const double angle = 2.0 * pi * k / around;
    const double x = side * (at.x + at.half_breadth * std::sin(angle));
    const double other = at.half_depth * std::cos(angle);
    const glm::dvec3 p = upright ? glm::dvec3{x, at.z + other, at.y} : glm::dvec3{x, at.y, at.z + other};
    ring.push_back(static_cast<std::uint32_t>(mesh.vertices.size()));
    mesh.vertices.emplace_back(p * scale);
  }
  return ring;
}

// A closed body through the sections; both ends are points or are closed by a fan.
void addBody(Mesh& mesh, std::span<const Section> sections, double scale, bool upright, double side) {
  std::vector<std::uint32_t> below;
  const bool flip =
      upright != (side < 0) ? sections.front().y < sections.back().y : sections.front().y > sections.back().y;
  const auto face = [&](std::uint32_t a, std::uint32_t b, std::uint32_t c) {
    mesh.triangles.push_back(flip ? Triangle{a, c, b} : Triangle{a, b, c});
  };
  for (const Section& section : sections) {
    const std::vector<std::uint32_t> here = addSection(mesh, section, scale, upright, side);
    for (std::size_t k = 0; !below.empty() && k < around; ++k) {
      const std::size_t next = (k + 1) % around;
      const auto corner = [](const std::vector<std::uint32_t>& ring, std::size_t at) {
        return ring.size() == 1 ? ring[0] : ring[at];
      };
      if (below.size() > 1) face(corner(below, k), corner(below, next), corner(here, next));
      if (here.size() > 1) face(corner(below, k), corner(here, next), corner(here, k));
    }
    below = here;
  }
}

}  // namespace

Mesh makePerson(double height_mm) {
  Mesh mesh;
  static constexpr std::array<Section, 1> seat{{{0, 0.440, 0.000, 0.000, 0.000}}};
  std::vector<Section> trunk(seat.begin(), seat.end());
  trunk.insert(trunk.end(), trunk_and_head.begin(), trunk_and_head.end());
  addBody(mesh, trunk, height_mm, false, 1.0);
  for (const double side : {1.0, -1.0}) {
    addBody(mesh, right_arm, height_mm, false, side);
    addBody(mesh, right_leg, height_mm, false, side);
    addBody(mesh, right_foot, height_mm, true, side);
  }
  return mesh;
}

}  // namespace petalproof
