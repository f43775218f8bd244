#include "tests/support/random_wall.h"

#include "engine/base/hash.h"

#include <glm/geometric.hpp>
#include <glm/trigonometric.hpp>

#include <algorithm>
#include <cmath>

namespace petalproof::testing {
namespace {

// Numbers in sequence from a seed.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : state_(seed) {}
  double between(double from, double to) {
    return from + (to - from) * unitFromHash(mixed(state_ = mixed(state_)));
  }
  int oneOf(int count) { return std::min(static_cast<int>(between(0, count)), count - 1); }

 private:
  std::uint64_t state_;
};

// Rings of petals around the axis; lengths as shares of the bloom's radius.
struct PetalRing {
  int petals;
  double length;
  double width;     // of a petal, share of its length
  double tilt_deg;  // from the board
  double height;    // of its foot
};

void addQuad(scene::Mesh& mesh, std::uint32_t a, std::uint32_t b, std::uint32_t c, std::uint32_t d) {
  mesh.triangles.push_back({a, b, c});
  mesh.triangles.push_back({a, c, d});
}

// Four rows of three vertices and a tip: 14 triangles... kept to one fold along the middle.
void addPetal(scene::Mesh& mesh, const PetalRing& ring, double radius, double turn, double tilt) {
  const int rows = 3;
  const auto first = static_cast<std::uint32_t>(mesh.vertices.size());
  for (int row = 0; row <= rows; ++row) {
    const double along = static_cast<double>(row) / rows;
    const double half = ring.length * radius * ring.width * 0.5 * std::sin(0.35 + 2.5 * along);
    for (int side = -1; side <= 1; side += 2) {
      const double out = radius * (0.08 + ring.length * along * std::cos(tilt + 0.3 * along));
      const double up = radius * (ring.height + ring.length * along * std::sin(tilt + 0.3 * along)) +
                        (side > 0 ? 0.15 * half : 0.0);
      const double across = half * side;
      mesh.vertices.emplace_back(out * std::cos(turn) - across * std::sin(turn),
                                 out * std::sin(turn) + across * std::cos(turn), up);
    }
  }
  for (std::uint32_t row = 0; row < rows; ++row) {
    const std::uint32_t at = first + 2 * row;
    addQuad(mesh, at, at + 2, at + 3, at + 1);
  }
}

void addButton(scene::Mesh& mesh, double radius, double height) {
  const int sides = 16;
  const auto first = static_cast<std::uint32_t>(mesh.vertices.size());
  mesh.vertices.emplace_back(0.0F, 0.0F, radius * (height + 0.1));
  for (int k = 0; k < sides; ++k) {
    const double turn = 2 * pi * k / sides;
    mesh.vertices.emplace_back(0.15 * radius * std::cos(turn), 0.15 * radius * std::sin(turn),
                               radius * height);
  }
  for (std::uint32_t k = 0; k < sides; ++k) {
    mesh.triangles.push_back({first, first + 1 + k, first + 1 + (k + 1) % sides});
  }
}

scene::Mesh randomBloom(Dice& dice, double radius) {
  constexpr std::array<PetalRing, 4> dahlia{{{14, 0.92, 0.30, 8, 0.02},
                                             {13, 0.72, 0.32, 24, 0.05},
                                             {12, 0.56, 0.34, 42, 0.08},
                                             {11, 0.42, 0.36, 60, 0.1}}};
  constexpr std::array<PetalRing, 4> peony{{{13, 0.9, 0.6, 12, 0.02},
                                            {13, 0.8, 0.6, 35, 0.04},
                                            {12, 0.7, 0.6, 58, 0.06},
                                            {12, 0.6, 0.6, 75, 0.08}}};
  constexpr std::array<PetalRing, 4> daisy{{{16, 0.92, 0.16, 5, 0.02},
                                            {14, 0.85, 0.16, 12, 0.03},
                                            {12, 0.5, 0.2, 15, 0.05},
                                            {8, 0.3, 0.3, 30, 0.07}}};
  const std::array<std::array<PetalRing, 4>, 3> kinds{dahlia, peony, daisy};
  scene::Mesh mesh;
  for (const PetalRing& ring : kinds[static_cast<std::size_t>(dice.oneOf(3))]) {
    const double start = dice.between(0, 2 * pi);
    for (int k = 0; k < ring.petals; ++k) {
      const double turn = start + 2 * pi * (k + dice.between(-0.1, 0.1)) / ring.petals;
      addPetal(mesh, ring, radius, turn, radians(ring.tilt_deg + dice.between(-4, 4)));
    }
  }
  addButton(mesh, radius, 0.3);
  return mesh;
}

scene::PanelGrid gridOf(const RandomWallSpec& spec) {
  scene::PanelGrid panels;
  panels.columns = spec.columns;
  panels.rows = spec.rows;
  panels.panel_width_mm = 609.6;
  panels.panel_height_mm = 508;
  panels.seam_mm = spec.seam_mm;
  panels.thickness_mm = 4.7625;
  panels.above_floor_mm = 150;
  panels.has_panel = Grid<std::uint8_t>(spec.columns, spec.rows, 1);
  return panels;
}

}  // namespace

scene::Scene randomWall(const RandomWallSpec& spec) {
  scene::Scene scene;
  scene.panels = gridOf(spec);
  Dice dice(spec.seed);
  const int blooms = spec.columns * spec.rows * spec.blooms_per_panel;
  for (int k = 0; k < blooms; ++k) {
    const double radius = 0.5 * (k % 3 == 0 ? dice.between(280, 450) : dice.between(110, 280));
    const glm::dvec2 at(dice.between(0, scene.panels.width_mm()), dice.between(0, scene.panels.height_mm()));
    const double turn = dice.between(0, 2 * pi);
    scene::BloomInstance bloom;
    bloom.mesh = static_cast<std::uint32_t>(scene.meshes.size());
    scene.meshes.push_back(randomBloom(dice, radius));
    bloom.wallFromMesh =
        glm::mat4x3(glm::dmat4x3(std::cos(turn), std::sin(turn), 0, -std::sin(turn), std::cos(turn), 0, 0, 0,
                                 1, at.x, at.y, dice.between(0, 8)));
    bloom.at_mm = at;
    bloom.diameter_mm = 2 * radius;
    scene.blooms.push_back(bloom);
  }
  return scene;
}

RandomWallSpec smallWall(std::uint64_t seed) { return {6, 5, 10, 1.5, seed}; }
RandomWallSpec largeWall(std::uint64_t seed) { return {24, 20, 10, 1.5, seed}; }

camera::WallFrame wallFrameOf(const scene::PanelGrid& panels) {
  return {Units::millimetre, panels.width_mm(), panels.height_mm(), panels.above_floor_mm};
}

camera::Camera cameraOnWall(const scene::PanelGrid& panels, double megapixels, double turn_deg) {
  camera::Camera camera;
  camera.width_px = static_cast<int>(std::lround(std::sqrt(megapixels * 1e6 * 1.5)));
  camera.height_px = static_cast<int>(std::lround(camera.width_px / 1.5));
  camera.focal_mm = 50;
  camera.pixel_pitch_mm = 36.0 / camera.width_px;
  camera.focal_px = camera.focal_mm / camera.pixel_pitch_mm;
  const double width = std::max(panels.width_mm(), 1.5 * panels.height_mm());
  const double distance = width * camera.focal_mm / 36.0;
  const double turn = radians(turn_deg);
  const glm::dvec3 middle(panels.width_mm() / 2, panels.height_mm() / 2, 0);
  camera.position.mm = middle + distance * glm::dvec3(std::sin(turn), 0, std::cos(turn));
  camera.focus_mm = distance;
  const glm::dmat3 wallFromCamera(glm::dvec3(std::cos(turn), 0, -std::sin(turn)), glm::dvec3(0, 1, 0),
                                  glm::dvec3(std::sin(turn), 0, std::cos(turn)));
  camera.cameraFromWall = glm::transpose(wallFromCamera);
  return camera;
}

}  // namespace petalproof::testing
