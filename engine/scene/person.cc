#include "engine/scene/person.h"

#include "engine/base/units.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>
#include <vector>

namespace petalproof::scene {
namespace {

// A level elliptic section of the body. Lengths are shares of the height.
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

constexpr std::array<Section, 22> trunk_and_head{{
    {0, 0.445, 0.000, 0.000, 0.000},
    {0, 0.452, 0.000, 0.040, 0.034},
    {0, 0.472, -0.002, 0.088, 0.058},
    {0, 0.510, -0.004, 0.1035, 0.068},
    {0, 0.555, -0.002, 0.096, 0.063},
    {0, 0.605, 0.004, 0.080, 0.055},
    {0, 0.655, 0.006, 0.078, 0.056},
    {0, 0.700, 0.006, 0.0815, 0.065},
    {0, 0.745, 0.005, 0.0825, 0.068},
    {0, 0.785, 0.001, 0.100, 0.060},
    {0, 0.808, -0.003, 0.112, 0.046},
    {0, 0.824, -0.005, 0.094, 0.038},
    {0, 0.838, -0.006, 0.056, 0.035},
    {0, 0.852, -0.004, 0.035, 0.033},
    {0, 0.870, 0.000, 0.0315, 0.034},
    {0, 0.882, 0.008, 0.034, 0.043},
    {0, 0.897, 0.008, 0.0385, 0.052},
    {0, 0.925, 0.006, head_half_breadth, head_half_length},
    {0, 0.955, 0.004, head_half_breadth, head_half_length},
    {0, 0.978, 0.002, 0.0370, 0.047},
    {0, 0.993, 0.001, 0.021, 0.027},
    {0, 1.000, 0.000, 0.000, 0.000},
}};

constexpr std::array<Section, 14> right_arm{{
    {0.104, 0.826, -0.005, 0.000, 0.000},
    {0.105, 0.822, -0.005, 0.0165, 0.020},
    {0.109, 0.807, -0.006, 0.0285, 0.032},
    {0.1115, 0.783, -0.006, 0.0305, 0.034},
    {0.1130, 0.755, -0.006, 0.0285, 0.032},
    {0.1170, 0.695, -0.008, 0.0230, 0.027},
    {0.1210, 0.635, -0.008, 0.0195, 0.023},
    {0.1240, 0.590, -0.002, 0.0205, 0.023},
    {0.1280, 0.530, 0.006, 0.0165, 0.018},
    {0.1300, 0.487, 0.012, 0.0130, 0.016},
    {0.1305, 0.452, 0.017, 0.0135, 0.025},
    {0.1295, 0.405, 0.020, 0.0110, 0.021},
    {0.1280, 0.385, 0.020, 0.0070, 0.012},
    {0.1275, 0.378, 0.020, 0.000, 0.000},
}};

constexpr std::array<Section, 12> right_leg{{
    {0.044, 0.540, -0.004, 0.000, 0.000},
    {0.046, 0.525, -0.004, 0.034, 0.040},
    {0.050, 0.490, -0.004, 0.0480, 0.057},
    {0.0525, 0.450, -0.004, 0.0485, 0.057},
    {0.053, 0.380, 0.000, 0.0430, 0.050},
    {0.052, 0.285, 0.000, 0.0320, 0.036},
    {0.052, 0.250, 0.000, 0.0300, 0.034},
    {0.052, 0.195, -0.008, 0.0310, 0.036},
    {0.052, 0.115, -0.008, 0.0235, 0.027},
    {0.052, 0.055, -0.006, 0.0190, 0.022},
    {0.052, 0.035, -0.002, 0.0200, 0.028},
    {0.052, 0.030, 0.000, 0.000, 0.000},
}};

// A foot: its sections stand upright, along z.
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

// A closed body through its sections; both ends are points. `forward`: its sections stand upright and follow
// each other along z (a foot), so that y and z change places.
struct Body {
  std::span<const Section> sections;
  int around = 8;  // corners of a section
  bool forward = false;
  double side = 1;  // -1: the left limb of a pair
};

std::vector<std::uint32_t> addSection(Mesh& mesh, const Section& at, const Body& body, double height_mm) {
  std::vector<std::uint32_t> ring;
  const int count = at.half_breadth > 0 ? body.around : 1;
  for (int k = 0; k < count; ++k) {
    const double angle = 2.0 * pi * k / body.around;
    const double x = body.side * (at.x + at.half_breadth * std::sin(angle));
    const double z = at.z + at.half_depth * std::cos(angle);
    ring.push_back(static_cast<std::uint32_t>(mesh.vertices.size()));
    mesh.vertices.emplace_back(height_mm * (body.forward ? glm::dvec3{x, z, at.y} : glm::dvec3{x, at.y, z}));
  }
  return ring;
}

void addBody(Mesh& mesh, const Body& body, double height_mm) {
  const bool downwards = body.sections.front().y > body.sections.back().y;
  const bool flip = (downwards != (body.side < 0)) != body.forward;
  const auto face = [&](std::uint32_t a, std::uint32_t b, std::uint32_t c) {
    mesh.triangles.push_back(flip ? Triangle{a, c, b} : Triangle{a, b, c});
  };
  const auto corner = [](const std::vector<std::uint32_t>& ring, std::size_t k) {
    return ring[k % ring.size()];
  };
  std::vector<std::uint32_t> below;
  for (const Section& section : body.sections) {
    const std::vector<std::uint32_t> here = addSection(mesh, section, body, height_mm);
    const std::size_t around = below.empty() ? 0 : std::max(below.size(), here.size());
    for (std::size_t k = 0; k < around; ++k) {
      if (below.size() > 1) face(corner(below, k), corner(below, k + 1), corner(here, k + 1));
      if (here.size() > 1) face(corner(below, k), corner(here, k + 1), corner(here, k));
    }
    below = here;
  }
}

}  // namespace

Mesh makePerson(double height_mm) {
  Mesh mesh;
  addBody(mesh, {.sections = trunk_and_head, .around = 14}, height_mm);
  for (const double side : {1.0, -1.0}) {
    addBody(mesh, {.sections = right_arm, .side = side}, height_mm);
    addBody(mesh, {.sections = right_leg, .side = side}, height_mm);
    addBody(mesh, {.sections = right_foot, .forward = true, .side = side}, height_mm);
  }
  return mesh;
}

}  // namespace petalproof::scene
