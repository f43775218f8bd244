#include "tests/check/paper_walls.h"

#include "engine/arrange/arrange.h"
#include "engine/base/hash.h"
#include "engine/plan/default_shots.h"
#include "engine/plan/plan_defaults.h"

#include <doctest/doctest.h>

#include <glm/geometric.hpp>

#include <cmath>

namespace petalproof::testing {
namespace {

constexpr double wall_mm_per_inch = 25.4;
constexpr double step_in = 5.7;
constexpr double row_step_in = 4.95;

plan::Bloom bloomOf(const std::string& name, plan::Shape shape, double inches, Colour colour) {
  plan::Bloom bloom;
  bloom.name = name;
  bloom.form = shape;
  bloom.diameter = {inches};
  bloom.colours = {colour};
  return bloom;
}

plan::Plan emptyPlan(std::uint64_t seed) {
  plan::Plan plan;
  plan.title = "Made up";
  plan.seed = seed;
  plan.wall = plan::defaultWall(Units::inch);
  plan.wall.columns = 3;
  plan.wall.rows = 3;
  plan.wall.panel = {{24}, {20}};
  plan.wall.grid = Grid<plan::Cell>(3, 3, plan::Cell{"plain", false});
  plan.wall.above_floor = {10};
  return plan;
}

PaperWall builtWall(plan::Plan plan) {
  PaperWall wall;
  wall.loaded.plan = std::move(plan);
  wall.loaded.file = "made-up.toml";
  Result<scene::Scene> scene = scene::buildScene(wall.loaded);
  REQUIRE(scene);
  wall.scene = std::move(*scene.value);
  return wall;
}

}  // namespace

const std::vector<PaperPalette>& paperPalettes() {
  static const std::vector<PaperPalette> palettes{
      {"white", {{245, 242, 234}, {239, 230, 214}, {232, 228, 220}, {255, 255, 255}}, {141, 159, 128}, true},
      {"blush", {{232, 180, 171}, {242, 211, 201}, {201, 133, 126}, {247, 236, 228}}, {157, 176, 143}, true},
      {"navy", {{31, 47, 82}, {63, 95, 143}, {199, 211, 227}, {240, 238, 232}}, {127, 143, 134}, true},
      {"jungle", {{47, 93, 52}, {79, 125, 63}, {143, 174, 95}, {217, 196, 106}}, {60, 110, 71}, false},
      {"sunset", {{217, 88, 59}, {239, 145, 72}, {245, 197, 101}, {168, 50, 74}}, {111, 125, 73}, false},
      {"lilac", {{183, 155, 207}, {217, 200, 230}, {125, 91, 166}, {190, 170, 210}}, {143, 165, 138}, false},
      {"gold", {{201, 162, 74}, {227, 199, 127}, {43, 41, 38}, {150, 120, 60}}, {107, 106, 60}, false},
      {"sea", {{58, 143, 152}, {143, 201, 198}, {233, 216, 180}, {242, 143, 122}}, {79, 127, 107}, false},
      {"dark", {{59, 31, 43}, {90, 42, 60}, {122, 59, 59}, {42, 42, 51}}, {74, 90, 63}, false},
      {"candy", {{240, 95, 160}, {247, 168, 200}, {87, 184, 224}, {255, 224, 102}}, {111, 191, 115}, false}};
  return palettes;
}

PaperWall arrangedWall(const PaperPalette& palette, std::uint64_t seed) {
  plan::Plan plan = emptyPlan(seed);
  const auto& c = palette.blooms;
  tables::ArrangeRequest request;
  request.wall = plan.wall;
  request.seed = seed;
  request.care = 0.3;
  const auto add = [&](plan::Bloom bloom, int count) {
    request.counts.push_back({bloom.name, count, ""});
    request.blooms.push_back(std::move(bloom));
  };
  add(bloomOf("dahlia", plan::Shape::dahlia, 15, c[0]), 9);
  add(bloomOf("peony", plan::Shape::peony, 12, c[1]), 9);
  add(bloomOf("petal bloom", plan::Shape::petalBloom, 9, c[2]), 18);
  add(bloomOf("rosette", plan::Shape::rosette, 7, c[3]), 27);
  add(bloomOf("rose", plan::Shape::rose, 5, c[0]), 45);
  add(bloomOf("bud", plan::Shape::bud, 3.5, c[2]), 45);
  add(bloomOf("leaf", plan::Shape::leaf, 9, palette.leaf), 45);
  arrange::Arrangement arranged = arrange::arrange(request);
  plan.blooms = request.blooms;
  plan.layouts = std::move(arranged.layouts);
  plan.wall.grid = std::move(arranged.grid);
  return builtWall(std::move(plan));
}

std::vector<glm::dvec2> coveredPlaces() {
  std::vector<glm::dvec2> places;
  int row = 0;
  for (double y = 0; y <= 60.2; y += row_step_in, ++row)
    for (double x = row % 2 == 0 ? 0 : step_in / 2; x <= 72.2; x += step_in)
      places.push_back(wall_mm_per_inch * glm::dvec2(x, y));
  return places;
}

PaperWall coveredWall(const PaperPalette& palette, std::uint64_t seed,
                      const std::vector<std::size_t>& missing) {
  plan::Plan plan = emptyPlan(seed);
  plan.layouts = {plan::Layout{"plain", {}}};
  constexpr plan::Shape shapes[] = {plan::Shape::dahlia, plan::Shape::peony, plan::Shape::petalBloom,
                                    plan::Shape::rosette};
  for (std::size_t k = 0; k < 4; ++k)
    plan.blooms.push_back(bloomOf("bloom " + std::to_string(k), shapes[k], 8.0 + 0.3 * static_cast<double>(k),
                                  palette.blooms[k]));
  plan.blooms.push_back(bloomOf("leaves", plan::Shape::peony, 8, palette.leaf));
  const double height_in = 60 + 2 * plan.wall.seam.value;
  const std::vector<glm::dvec2> places = coveredPlaces();
  for (std::size_t k = 0; k < places.size(); ++k) {
    if (std::find(missing.begin(), missing.end(), k) != missing.end()) continue;
    plan::Filler filler;
    filler.placement.bloom = plan.blooms[hashOf({seed, k}) % 5].name;
    filler.placement.at = {{places[k].x / wall_mm_per_inch}, {height_in - places[k].y / wall_mm_per_inch}};
    filler.placement.turn_deg = static_cast<double>(hashOf({seed, k, 1}) % 360);
    plan.fillers.push_back(filler);
  }
  return builtWall(std::move(plan));
}

std::vector<glm::dvec2> discCorners(glm::dvec2 middle, double radius_mm) {
  std::vector<glm::dvec2> corners;
  constexpr int count = 48;
  for (int k = 0; k < count; ++k) {
    const double angle = 2 * 3.14159265358979323846 * k / count;
    corners.push_back(middle + radius_mm * glm::dvec2(std::cos(angle), std::sin(angle)));
  }
  return corners;
}

void addSheet(scene::Scene& scene, const std::vector<glm::dvec2>& corners_mm, double in_front_mm,
              Colour colour) {
  scene::Mesh sheet;
  glm::dvec2 middle(0);
  for (const glm::dvec2& corner : corners_mm) middle += corner / static_cast<double>(corners_mm.size());
  sheet.vertices.emplace_back(0.0F);
  for (const glm::dvec2& corner : corners_mm) sheet.vertices.emplace_back(glm::vec2(corner - middle), 0.0F);
  const auto count = static_cast<std::uint32_t>(corners_mm.size());
  for (std::uint32_t k = 0; k < count; ++k) sheet.triangles.push_back({0, 1 + k, 1 + (k + 1) % count});
  scene::BloomInstance bloom;
  bloom.mesh = static_cast<std::uint32_t>(scene.meshes.size());
  bloom.wallFromMesh[3] = glm::vec3(middle.x, middle.y, in_front_mm);
  bloom.at_mm = middle;
  bloom.colour = colour;
  scene.meshes.push_back(std::move(sheet));
  scene.blooms.push_back(bloom);
}

std::vector<plan::Shot> coupleAndWholeWall(const PaperWall& wall, double megapixels) {
  const std::vector<plan::Shot> all = plan::defaultShots(wall.loaded.plan);
  std::vector<plan::Shot> two{all.front(), all.back()};
  for (plan::Shot& shot : two) shot.megapixels = megapixels;
  return two;
}

int holeAt(const check::ShotCheck& shot, glm::dvec2 place_mm, double reach_mm) {
  int nearest = -1;
  double least = reach_mm;
  for (std::size_t k = 0; k < shot.found.holes.size(); ++k) {
    const double away = glm::distance(shot.found.holes[k].whole.centre_mm, place_mm);
    if (away > least) continue;
    least = away;
    nearest = static_cast<int>(k);
  }
  return nearest;
}

}  // namespace petalproof::testing
