#include "engine/scene/scene.h"

#include "engine/scene/board_boxes.h"
#include "engine/scene/shapes.h"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>
#include <glm/matrix.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <set>
#include <string>
#include <vector>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;

namespace {

Bloom kindOf(const std::string& name, Shape shape, double diameter) {
  Bloom bloom;
  bloom.name = name;
  bloom.form = shape;
  bloom.diameter = {diameter};
  bloom.colours = {Colour{200, 40, 40}};
  return bloom;
}

Placement placed(const std::string& bloom, double from_left, double from_top, double turn = 0) {
  Placement placement;
  placement.bloom = bloom;
  placement.at = {{from_left}, {from_top}};
  placement.turn_deg = turn;
  return placement;
}

// Three columns and two rows of 20 x 16 in panels, seam 1 in; layout "sun" everywhere but in B2.
LoadedPlan smallWall() {
  LoadedPlan loaded;
  loaded.file = "wall.toml";
  loaded.directory = PETALPROOF_SOURCE_DIR;
  Plan& plan = loaded.plan;
  plan.title = "small";
  plan.seed = 7;
  plan.wall.columns = 3;
  plan.wall.rows = 2;
  plan.wall.panel = {{20}, {16}};
  plan.wall.seam = {1};
  plan.wall.board.thickness = {0.25};
  plan.wall.grid = Grid<Cell>(3, 2, Cell{"sun", false});
  plan.wall.grid.at(1, 1) = {};
  plan.blooms = {kindOf("ember", Shape::dahlia, 8), kindOf("bud", Shape::bud, 3),
                 kindOf("tip", Shape::leaf, 6)};
  plan.layouts = {{"sun", {placed("ember", 6, 5, 15), placed("bud", 15, 12), placed("tip", 15, 4, 90)}}};
  return loaded;
}

Scene built(const LoadedPlan& loaded) {
  auto scene = buildScene(loaded);
  REQUIRE(scene);
  return *scene.value;
}

const BloomInstance& bloomAt(const Scene& scene, int column, int row, int index) {
  const auto found = std::find_if(scene.blooms.begin(), scene.blooms.end(), [&](const BloomInstance& bloom) {
    return bloom.panel_column == column && bloom.panel_row == row && bloom.index == index;
  });
  REQUIRE(found != scene.blooms.end());
  return *found;
}

// All that shows of a bloom: its corners in the wall frame, its colour.
bool looksTheSame(const Scene& a, const BloomInstance& p, const Scene& b, const BloomInstance& q) {
  return p.wallFromMesh == q.wallFromMesh && p.colour == q.colour &&
         a.meshes[p.mesh].vertices == b.meshes[q.mesh].vertices &&
         a.meshes[p.mesh].triangles == b.meshes[q.mesh].triangles;
}

glm::dvec3 inWall(const BloomInstance& bloom, const glm::vec3& p) {
  return glm::dvec3(bloom.wallFromMesh * glm::vec4(p, 1));
}

// Degrees clockwise seen from the front.
double turnOf(const BloomInstance& bloom) {
  return std::atan2(-bloom.wallFromMesh[0].y, bloom.wallFromMesh[0].x) * 180 / std::acos(-1.0);
}

}  // namespace

TEST_CASE("places are measured from the panel's left and top edge") {
  LoadedPlan loaded = smallWall();
  loaded.plan.variation = 0;
  const Scene scene = built(loaded);
  CHECK(scene.blooms.size() == 15);
  CHECK(scene.panels.width_mm() == doctest::Approx(62 * 25.4));
  CHECK(scene.panels.height_mm() == doctest::Approx(33 * 25.4));
  CHECK_FALSE(scene.panels.panelAt(1, 1));
  CHECK(scene.panels.panelAt(1, 0));
  // C1: its left edge at 2 * (20 + 1) in, its top edge at the wall's, 2 * 16 + 1 in up.
  const BloomInstance& ember = bloomAt(scene, 2, 0, 0);
  CHECK(ember.at_mm.x == doctest::Approx((42 + 6) * 25.4));
  CHECK(ember.at_mm.y == doctest::Approx((33 - 5) * 25.4));
  CHECK(turnOf(ember) == doctest::Approx(15));
  CHECK(ember.plate_mm == doctest::Approx(0.3 * 8 * 25.4));
  CHECK(glm::length(inWall(ember, {0, 0, 0}) - glm::dvec3(ember.at_mm, 0)) < 1e-3);
  // A2 hangs one panel and one seam lower.
  CHECK(bloomAt(scene, 0, 1, 1).at_mm.y == doctest::Approx((16 - 12) * 25.4));
}

TEST_CASE("a turn goes clockwise seen from the front, from tip up") {
  LoadedPlan loaded = smallWall();
  loaded.plan.variation = 0;
  loaded.plan.layouts[0].blooms[2].raised = {0.5};
  const Scene scene = built(loaded);
  const BloomInstance& leaf = bloomAt(scene, 0, 0, 2);
  const auto& vertices = scene.meshes[leaf.mesh].vertices;
  const auto tip = std::max_element(vertices.begin(), vertices.end(),
                                    [](const glm::vec3& a, const glm::vec3& b) { return a.y < b.y; });
  CHECK(tip->y == doctest::Approx(3 * 25.4));
  // Turned by 90 degrees the tip points to the right.
  const glm::dvec3 there = inWall(leaf, *tip);
  CHECK(there.x - leaf.at_mm.x == doctest::Approx(3 * 25.4));
  CHECK(std::abs(there.y - leaf.at_mm.y) < 0.01);
  CHECK(there.z == doctest::Approx(tip->z + 0.5 * 25.4));
}

TEST_CASE("upside down turns the layout about the panel's middle") {
  LoadedPlan loaded = smallWall();
  loaded.plan.variation = 0;
  const Scene upright = built(loaded);
  loaded.plan.wall.grid.at(2, 1).upside_down = true;
  const Scene turned = built(loaded);
  const glm::dvec2 middle{(42 + 10) * 25.4, 8 * 25.4};
  for (int k = 0; k < 3; ++k) {
    const BloomInstance& before = bloomAt(upright, 2, 1, k);
    const BloomInstance& after = bloomAt(turned, 2, 1, k);
    CHECK(glm::length(after.at_mm + before.at_mm - 2.0 * middle) < 1e-9);
    for (const glm::vec3& p : upright.meshes[before.mesh].vertices) {
      const glm::dvec3 q = inWall(before, p);
      CHECK(glm::length(inWall(after, p) - glm::dvec3(2.0 * middle - glm::dvec2(q), q.z)) < 0.01);
    }
  }
}

TEST_CASE("adding or moving one bloom changes no other") {
  const LoadedPlan before = smallWall();
  LoadedPlan moved = before;
  moved.plan.layouts[0].blooms[0].at = {{9}, {9}};
  LoadedPlan more = before;
  more.plan.layouts[0].blooms.push_back(placed("ember", 3, 13));
  more.plan.fillers.push_back({placed("bud", 20.5, 16.5), false});
  LoadedPlan kinds = before;
  kinds.plan.blooms.insert(kinds.plan.blooms.begin(), kindOf("new", Shape::rose, 5));
  LoadedPlan cells = before;
  cells.plan.wall.grid.at(0, 0).layout = "";
  const Scene a = built(before);
  for (const LoadedPlan* other : {&moved, &more, &kinds, &cells}) {
    const Scene b = built(*other);
    int compared = 0;
    for (const BloomInstance& bloom : a.blooms) {
      if (other == &moved && bloom.index == 0) continue;
      if (!b.panels.panelAt(bloom.panel_column, bloom.panel_row)) continue;
      ++compared;
      CHECK(looksTheSame(a, bloom, b, bloomAt(b, bloom.panel_column, bloom.panel_row, bloom.index)));
    }
    CHECK(compared >= 10);
  }
  // The moved one keeps its own looks but for its place.
  const Scene b = built(moved);
  CHECK(turnOf(bloomAt(b, 0, 0, 0)) == turnOf(bloomAt(a, 0, 0, 0)));
  CHECK(b.meshes[bloomAt(b, 0, 0, 0).mesh].vertices == a.meshes[bloomAt(a, 0, 0, 0).mesh].vertices);
}

TEST_CASE("a filler's looks hang on its place alone") {
  LoadedPlan loaded = smallWall();
  loaded.plan.fillers = {{placed("bud", 20.5, 16.5), false}, {placed("ember", 41.5, 10, 30), true}};
  const Scene a = built(loaded);
  std::swap(loaded.plan.fillers[0], loaded.plan.fillers[1]);
  loaded.plan.fillers.insert(loaded.plan.fillers.begin(), {placed("bud", 5, 5), false});
  const Scene b = built(loaded);
  CHECK(looksTheSame(a, bloomAt(a, -1, -1, 0), b, bloomAt(b, -1, -1, 2)));
  CHECK(looksTheSame(a, bloomAt(a, -1, -1, 1), b, bloomAt(b, -1, -1, 1)));
  // From the wall's left and top edge.
  CHECK(bloomAt(a, -1, -1, 0).at_mm.x == doctest::Approx(20.5 * 25.4));
  CHECK(bloomAt(a, -1, -1, 0).at_mm.y == doctest::Approx((33 - 16.5) * 25.4));
}

TEST_CASE("copies differ a little, the same each time, and never in place, diameter or depth") {
  LoadedPlan loaded = smallWall();
  loaded.plan.wall.columns = 12;
  loaded.plan.wall.rows = 10;
  loaded.plan.wall.grid = Grid<Cell>(12, 10, Cell{"sun", false});
  const Scene scene = built(loaded);
  const Scene again = built(loaded);
  std::set<double> turns;
  std::set<std::uint32_t> meshes;
  for (std::size_t k = 0; k < scene.blooms.size(); ++k) {
    const BloomInstance& bloom = scene.blooms[k];
    CHECK(looksTheSame(scene, bloom, again, again.blooms[k]));
    if (bloom.kind != 0) continue;
    turns.insert(turnOf(bloom));
    meshes.insert(bloom.mesh);
    double farthest = 0;
    double high = 0;
    for (const glm::dvec3 p : scene.meshes[bloom.mesh].vertices) {
      farthest = std::max(farthest, std::hypot(p.x, p.y));
      high = std::max(high, p.z);
    }
    CHECK(farthest == doctest::Approx(4 * 25.4).epsilon(1e-6));
    CHECK(high == doctest::Approx(0.28 * 8 * 25.4).epsilon(1e-6));
  }
  CHECK(turns.size() == 120);
  CHECK(*turns.begin() >= 10.0);
  CHECK(*turns.begin() < 11.0);
  CHECK(*turns.rbegin() <= 20.0);
  CHECK(*turns.rbegin() > 19.0);
  CHECK(meshes.size() == 16);
  CHECK(scene.meshes.size() <= 48);
  loaded.plan.seed = 8;
  CHECK_FALSE(looksTheSame(scene, scene.blooms[0], built(loaded), built(loaded).blooms[0]));
}

TEST_CASE("without variation every copy is the plan's own") {
  LoadedPlan loaded = smallWall();
  loaded.plan.variation = 0;
  const Scene scene = built(loaded);
  CHECK(scene.meshes.size() == 3);
  for (const BloomInstance& bloom : scene.blooms)
    if (bloom.kind == 0) CHECK(turnOf(bloom) == doctest::Approx(15));
}

TEST_CASE("copies take the colours of their kind in turn") {
  LoadedPlan loaded = smallWall();
  loaded.plan.blooms[1].colours = {Colour{1, 0, 0}, Colour{2, 0, 0}, Colour{3, 0, 0}};
  loaded.plan.layouts[0].blooms = {placed("bud", 2, 2), placed("ember", 10, 8), placed("bud", 18, 2),
                                   placed("bud", 2, 14), placed("bud", 18, 14)};
  loaded.plan.layouts[0].blooms[4].colour = Colour{9, 9, 9};
  const Scene scene = built(loaded);
  std::set<int> starts;
  for (int row = 0; row < 2; ++row)
    for (int column = 0; column < 3; ++column) {
      if (!scene.panels.panelAt(column, row)) continue;
      const int first = bloomAt(scene, column, row, 0).colour.red - 1;
      starts.insert(first);
      CHECK(bloomAt(scene, column, row, 2).colour.red - 1 == (first + 1) % 3);
      CHECK(bloomAt(scene, column, row, 3).colour.red - 1 == (first + 2) % 3);
      CHECK(bloomAt(scene, column, row, 4).colour == Colour{9, 9, 9});
      CHECK(bloomAt(scene, column, row, 1).colour == Colour{200, 40, 40});
    }
  CHECK(starts.size() >= 2);
}

TEST_CASE("sizes that a plan leaves out follow the shape") {
  LoadedPlan loaded = smallWall();
  loaded.plan.blooms[2].width = Length{1.5};
  loaded.plan.blooms[1].depth = Length{2};
  const Scene scene = built(loaded);
  for (const BloomInstance& bloom : scene.blooms) {
    double high = 0;
    double right = 0;
    for (const glm::dvec3 p : scene.meshes[bloom.mesh].vertices) {
      high = std::max(high, p.z);
      right = std::max(right, p.x);
    }
    const auto& facts =
        factsOf(std::get<Shape>(loaded.plan.blooms[static_cast<std::size_t>(bloom.kind)].form));
    if (bloom.kind == 1)
      CHECK(high == doctest::Approx(2 * 25.4));
    else
      CHECK(high == doctest::Approx(facts.depth_share * bloom.diameter_mm));
    if (bloom.kind == 2) CHECK(right == doctest::Approx(0.75 * 25.4));
  }
}

TEST_CASE("the maker's own meshes hang at their size, read once") {
  LoadedPlan loaded = smallWall();
  loaded.plan.blooms[0].form = MeshFile{"assets/meshes/lotus.obj"};
  loaded.plan.blooms[0].depth = Length{2.5};
  loaded.plan.blooms[1].form = MeshFile{"assets/meshes/lotus.obj"};
  const Scene scene = built(loaded);
  for (const BloomInstance& bloom : scene.blooms) {
    if (bloom.kind > 1) continue;
    double farthest = 0;
    double high = 0;
    for (const glm::dvec3 p : scene.meshes[bloom.mesh].vertices) {
      farthest = std::max(farthest, std::hypot(p.x, p.y));
      high = std::max(high, p.z);
    }
    CHECK(farthest == doctest::Approx(0.5 * bloom.diameter_mm));
    CHECK(high == doctest::Approx(bloom.kind == 0 ? 2.5 * 25.4 : 0.3 * 3 * 25.4));
  }
}

TEST_CASE("mesh files that can't be used are told with their place") {
  LoadedPlan loaded = smallWall();
  loaded.plan.blooms[0].form = MeshFile{"tests/scene/data/bad/nan.obj"};
  loaded.plan.blooms[1].form = MeshFile{"nowhere/missing.obj"};
  loaded.plan.blooms[2].form = MeshFile{"tests/scene/data/bad/nan.obj"};
  loaded.places.blooms = {{"wall.toml", 20, 8}, {"wall.toml", 30, 8}, {"wall.toml", 40, 8}};
  const auto scene = buildScene(loaded);
  REQUIRE_FALSE(scene);
  REQUIRE(scene.problems.size() == 2);
  CHECK(toString(scene.problems[0]) == "tests/scene/data/bad/nan.obj:2: a vertex is not finite (\"nan\")");
  CHECK(toString(scene.problems[1]) ==
        "wall.toml:30:8: the mesh nowhere/missing.obj can't be read: there is no such file or folder");
}

TEST_CASE("too many triangles are refused before they are made") {
  LoadedPlan loaded = smallWall();
  loaded.places.wall = {"wall.toml", 3, 1};
  const std::int64_t all =
      5 * static_cast<std::int64_t>(makeShape({Shape::dahlia, 100, 0, 30}).triangles.size() +
                                    makeShape({Shape::bud, 100, 0, 50}).triangles.size() +
                                    makeShape({Shape::leaf, 100, 40, 10}).triangles.size());
  CHECK(buildScene(loaded, {all}));
  const auto refused = buildScene(loaded, {all - 1});
  REQUIRE_FALSE(refused);
  loaded.plan.wall.columns = loaded.plan.wall.rows = 200;
  loaded.plan.wall.grid = Grid<Cell>(200, 200, Cell{"sun", false});
  const auto huge = buildScene(loaded);
  REQUIRE_FALSE(huge);
  CHECK(toString(huge.problems.front()) ==
        "wall.toml:3:1: the wall's blooms have more than 20,000,000 triangles, the most that can be checked: "
        "hang "
        "fewer, or make the mesh files simpler");
}

TEST_CASE("a bloom inside another is warned of once, however often its layout hangs") {
  LoadedPlan loaded = smallWall();
  loaded.plan.blooms[1].diameter = {1.5};
  loaded.plan.layouts[0].blooms[1] = placed("bud", 6.2, 5.1);
  loaded.places.placements = {{{"wall.toml", 50, 3}, {"wall.toml", 51, 3}, {"wall.toml", 52, 3}}};
  const auto scene = buildScene(loaded);
  REQUIRE(scene);
  REQUIRE(scene.warnings.size() == 1);
  CHECK(toString(scene.warnings[0]) ==
        "wall.toml:51:3: \"bud\" lies wholly inside \"ember\" and can hardly be seen (in A1)");
}

TEST_CASE("what shows is not warned of") {
  const std::vector<std::array<double, 3>> shown{
      {15, 12, 0},    // beside it
      {10.5, 5, 0},   // half under its outer petals
      {8.6, 5, 0.9},  // on its outer petals
      {6, 5, 2},      // on top of it
  };
  for (const auto& place : shown) {
    CAPTURE(place[0]);
    LoadedPlan loaded = smallWall();
    loaded.plan.layouts[0].blooms[1] = placed("bud", place[0], place[1]);
    loaded.plan.layouts[0].blooms[1].raised = {place[2]};
    CHECK(buildScene(loaded).warnings.empty());
  }
}

TEST_CASE("of two equal blooms at one place the later is warned of, and a hidden filler too") {
  LoadedPlan loaded = smallWall();
  loaded.plan.layouts[0].blooms.push_back(placed("ember", 6, 5, 40));
  loaded.plan.blooms[1].diameter = {1.5};
  loaded.plan.fillers = {{placed("bud", 6, 5), false}};
  loaded.places.fillers = {{"wall.toml", 60, 1}};
  loaded.places.placements = {{{}, {}, {}, {"wall.toml", 53, 3}}};
  const auto scene = buildScene(loaded);
  REQUIRE(scene.warnings.size() == 2);
  CHECK(scene.warnings[0].place.line == 53);
  CHECK(toString(scene.warnings[1]) ==
        "wall.toml:60:1: the filler \"bud\" lies wholly inside \"ember\" and can hardly be seen");
}

TEST_CASE("a wall under too low a ceiling is warned of") {
  LoadedPlan loaded = smallWall();
  loaded.plan.wall.above_floor = {70};
  loaded.plan.wall.room.ceiling = Length{103};
  CHECK(buildScene(loaded).warnings.empty());
  loaded.plan.wall.room.ceiling = Length{102.75};
  loaded.places.room_ceiling = {"wall.toml", 9, 4};
  const auto scene = buildScene(loaded);
  REQUIRE(scene.warnings.size() == 1);
  CHECK(toString(scene.warnings[0]) ==
        "wall.toml:9:4: the wall's top is 103 in above the floor, higher than the room's ceiling at 102 3/4 "
        "in");
}

TEST_CASE("a panel's box fills its cell behind the board plane") {
  const Scene scene = built(smallWall());
  const Mesh box = boardBox(scene.panels, 1, 0);
  glm::dvec3 low{1e9};
  glm::dvec3 high{-1e9};
  double volume = 0;  // by the divergence theorem: right only if every face looks outwards
  for (const Triangle& t : box.triangles) {
    const glm::dvec3 a = box.vertices[t[0]];
    const glm::dvec3 b = box.vertices[t[1]];
    const glm::dvec3 c = box.vertices[t[2]];
    volume += glm::dot(a, glm::cross(b, c)) / 6;
    for (const glm::dvec3& p : {a, b, c}) {
      low = glm::min(low, p);
      high = glm::max(high, p);
    }
  }
  CHECK(glm::length(low - glm::dvec3{21, 17, -0.25} * 25.4) < 1e-3);
  CHECK(glm::length(high - glm::dvec3{41, 33, 0} * 25.4) < 1e-3);
  CHECK(volume == doctest::Approx(20 * 16 * 0.25 * std::pow(25.4, 3)).epsilon(1e-5));
}
