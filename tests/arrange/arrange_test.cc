#include "engine/arrange/arrange.h"

#include "engine/base/pool.h"
#include "engine/plan/plan_defaults.h"
#include "tests/arrange/measures.h"
#include "tests/arrange/random_tables.h"
#include "tests/support/sanitized.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <set>

namespace petalproof::testing {
namespace {

constexpr std::uint64_t tables = sanitized ? 40 : 200;  // they take long there

tables::ArrangeRequest threePanels(int blooms) {
  tables::ArrangeRequest request;
  request.wall = plan::defaultWall(Units::inch);
  request.wall.columns = 3;
  request.wall.rows = 1;
  request.wall.panel = {{24}, {18}};
  request.wall.grid = Grid<plan::Cell>(3, 1, plan::Cell{"sun", false});
  plan::Bloom bloom;
  bloom.name = "ember";
  bloom.diameter = {8};
  bloom.colours = {Colour{180, 83, 47}};
  request.blooms = {bloom};
  request.counts = {{"ember", blooms, ""}};
  return request;
}

std::map<std::string, int> wanted(const tables::ArrangeRequest& request) {
  std::map<std::string, int> numbers;
  for (const tables::KindCount& count : request.counts) numbers[count.bloom] += count.on_wall;
  return numbers;
}

int panelsOf(const Grid<plan::Cell>& grid, const std::string& layout) {
  return static_cast<int>(std::count_if(grid.cells().begin(), grid.cells().end(),
                                        [&](const plan::Cell& cell) { return cell.layout == layout; }));
}

// What holds of every wall, whatever the table.
void checkAlways(const tables::ArrangeRequest& request, const plan::Plan& plan, const scene::Scene& scene) {
  CHECK(onWall(plan) == wanted(request));
  const PlateMeasure plates = plateMeasure(scene);
  CHECK(plates.least_gap_mm > 0);
  CHECK(plates.farthest_off_board_mm < 0.01);
  CHECK(whollyInside(scene, plan) == 0);
  CHECK(mostAlike(plan) <= 0.5);
  const Overhang overhang = overhangOf(scene, plan);
  CHECK(overhang.small_share <= 1.0 / 3 + 0.05);
  CHECK(overhang.large_mm <= 32);  // tips of petals
}

}  // namespace

TEST_CASE("Seven of a kind over three panels: a layout of its own, and said how") {
  const tables::ArrangeRequest request = threePanels(7);
  const arrange::Arrangement arrangement = arrange::arrange(request);
  REQUIRE(arrangement.layouts.size() == 2);
  CHECK(panelsOf(arrangement.grid, "sun") == 2);
  CHECK(panelsOf(arrangement.grid, "sun b") == 1);
  CHECK(onWall(planOf(request, arrangement)).at("ember") == 7);
  REQUIRE(arrangement.dealt.size() == 2);
  CHECK(arrangement.dealt[0] ==
        "7 \"ember\" over 3 panels: 3 on 1 panel (\"sun b\"), 2 on 2 panels (\"sun\")");
  CHECK(arrangement.dealt[1].starts_with("\"sun b\" is a layout made so that the numbers come out"));
}

TEST_CASE("What can be dealt equally is, and nothing is said") {
  const tables::ArrangeRequest request = threePanels(9);
  const arrange::Arrangement arrangement = arrange::arrange(request);
  REQUIRE(arrangement.layouts.size() == 1);
  CHECK(arrangement.layouts[0].blooms.size() == 3);
  CHECK(arrangement.grid == request.wall.grid);
  CHECK(arrangement.dealt.empty());
}

TEST_CASE("Large blooms that don't suffice for all panels: one each, and none on as few panels as can be") {
  tables::ArrangeRequest request = threePanels(0);
  request.wall.columns = 4;
  request.wall.rows = 4;
  request.wall.grid = Grid<plan::Cell>(4, 4, plan::Cell{"sun", false});
  for (const int k : {1, 4, 6, 11, 15}) request.wall.grid.at(k % 4, k / 4) = {"drift", k % 2 == 0};
  request.blooms[0].diameter = {13};
  request.counts = {{"ember", 14, ""}};
  const arrange::Arrangement arrangement = arrange::arrange(request);
  const plan::Plan plan = planOf(request, arrangement);
  CHECK(onWall(plan).at("ember") == 14);
  for (const plan::Layout& layout : plan.layouts) CHECK(layout.blooms.size() <= 1);
  REQUIRE(arrangement.dealt.size() == 2);
  CHECK(arrangement.dealt[0].starts_with("14 \"ember\" over 16 panels: 1 on 14 panels ("));
}

TEST_CASE("Parts of a divided layout hang apart from their own kind") {
  tables::ArrangeRequest request = threePanels(0);
  request.wall.columns = 6;
  request.wall.rows = 4;
  request.wall.grid = Grid<plan::Cell>(6, 4, plan::Cell{"sun", false});
  request.blooms[0].diameter = {13};
  request.counts = {{"ember", 12, ""}};
  const Grid<plan::Cell> grid = arrange::arrange(request).grid;
  CHECK(panelsOf(grid, "sun b") == 12);
  int alike = 0;  // of 38 neighbours; all if the halves hung side by side but for 4 or 6
  for (int row = 0; row < grid.rows(); ++row)
    for (int column = 0; column < grid.columns(); ++column) {
      if (column > 0) alike += grid.at(column, row) == grid.at(column - 1, row) ? 1 : 0;
      if (row > 0) alike += grid.at(column, row) == grid.at(column, row - 1) ? 1 : 0;
    }
  CHECK(alike <= 6);
}

TEST_CASE("Blooms of one layout stay in its cells") {
  tables::ArrangeRequest request = threePanels(4);
  request.wall.grid.at(1, 0).layout = "dusk";
  request.counts = {{"ember", 2, "sun"}, {"ember", 3, "dusk"}, {"ember", 5, "dawn"}};
  const arrange::Arrangement arrangement = arrange::arrange(request);
  REQUIRE(arrangement.layouts.size() == 2);
  CHECK(arrangement.layouts[0].name == "sun");
  CHECK(arrangement.layouts[0].blooms.size() == 1);
  CHECK(arrangement.layouts[1].name == "dusk");
  CHECK(arrangement.layouts[1].blooms.size() == 3);
  REQUIRE(arrangement.dealt.size() == 1);
  CHECK(arrangement.dealt[0] == "5 \"ember\" found no place: no panel has the layout \"dawn\"");
}

TEST_CASE("More plates than the board holds: some are left out, and said") {
  tables::ArrangeRequest request = threePanels(3 * 400);
  const arrange::Arrangement arrangement = arrange::arrange(request);
  const plan::Plan plan = planOf(request, arrangement);
  const scene::Scene scene = sceneOf(plan);
  CHECK(plateMeasure(scene).least_gap_mm > 0);
  const int hung = onWall(plan).at("ember");
  CHECK(hung > 3 * 20);
  REQUIRE(arrangement.dealt.size() == 1);
  CHECK(arrangement.dealt[0] == std::to_string(400 - hung / 3) +
                                    " \"ember\" of each \"sun\" found no place: base plates would touch");
}

TEST_CASE("A table's wall is the same each time, and another by another seed") {
  tables::ArrangeRequest request = randomTable(5);
  const arrange::Arrangement first = arrange::arrange(request);
  const arrange::Arrangement again = arrange::arrange(request);
  CHECK(first.layouts == again.layouts);
  CHECK(first.grid == again.grid);
  CHECK(first.dealt == again.dealt);
  request.seed += 1;
  CHECK(arrange::arrange(request).layouts != first.layouts);
}

TEST_CASE("Lengths in another unit: the same kind of wall") {
  tables::ArrangeRequest request = threePanels(9);
  request.units = Units::centimetre;
  request.wall.panel = {{60}, {45}};
  request.wall.seam = {0.15};
  request.blooms[0].diameter = {20};
  const scene::Scene scene = sceneOf(planOf(request, arrange::arrange(request)));
  const PlateMeasure plates = plateMeasure(scene);
  CHECK(plates.least_gap_mm > 0);
  CHECK(plates.farthest_off_board_mm < 0.01);
}

namespace {

// One random table's wall, measured.
struct Measured {
  tables::ArrangeRequest request;
  arrange::Arrangement arrangement;
  plan::Plan plan;
  scene::Scene scene;
  std::vector<Meeting> meetings;
  double bare = 0;
  int rows = 0;
  int rows_across = 0;
};

bool isUsual(std::uint64_t seed) { return seed % 25 == 0; }

Measured measured(std::uint64_t seed) {
  Measured wall;
  wall.request = randomTable(seed, isUsual(seed) ? TableSize::usual : TableSize::small);
  wall.arrangement = arrange::arrange(wall.request);
  wall.plan = planOf(wall.request, wall.arrangement);
  wall.scene = sceneOf(wall.plan);
  wall.meetings = meetingsOf(wall.scene, wall.plan);
  wall.bare = bareShare(wall.scene);
  wall.rows = straightRows(wall.plan);
  wall.rows_across = straightRowsAcross(wall.scene, wall.plan);
  return wall;
}

std::vector<Measured> measuredWalls() {
  std::vector<Measured> walls(tables);
  Pool().forEach(walls.size(), [&](std::size_t k) { walls[k] = measured(k + 1); });
  return walls;
}

// Little bare board, or else it is said how many blooms are lacking.
void checkBare(const Measured& wall) {
  CHECK(std::abs(wall.arrangement.bare_share - wall.bare) < 0.02);
  CHECK((arrange::bloomsLacking(wall.arrangement) > 0) ==
        (wall.arrangement.bare_share > arrange::usual_bare_share));
  if (wall.arrangement.paper_share > 1.04) CHECK(wall.bare <= 0.12);
}

// Shares of the meetings of some kind.
struct Tally {
  double meetings = 0;
  double too_deep = 0;
  double shallow = 0;
  double twins = 0;

  void add(const Meeting& meeting) {
    meetings += 1;
    too_deep += meeting.overlap > 1.0 / 3 + 0.005 ? 1 : 0;
    shallow += meeting.overlap < 1.0 / 6 - 0.005 ? 1 : 0;
    twins += meeting.twins ? 1 : 0;
  }
};

}  // namespace

TEST_CASE("200 random tables: counts, plates, overlaps, no rows, no two layouts alike, little bare board") {
  double bare = 0;
  int rows = 0;
  int rows_across = 0;
  Tally within;
  Tally across;
  const std::vector<Measured> walls = measuredWalls();
  for (std::size_t k = 0; k < walls.size(); ++k) {
    CAPTURE(k + 1);
    const Measured& wall = walls[k];
    checkAlways(wall.request, wall.plan, wall.scene);
    checkBare(wall);
    // Panels with more paper than finds room beside other paper can't but cut deeper.
    const double deepest = wall.arrangement.paper_share > 1.4 ? 0.65 : 0.45;
    for (const Meeting& meeting : wall.meetings) {
      CHECK(meeting.overlap < deepest);
      (meeting.across ? across : within).add(meeting);
    }
    rows += wall.rows;
    rows_across += wall.rows_across;
    bare += wall.bare;
  }
  // Of a few of the tables shares of rare things scatter.
  const double scatter = sanitized ? 4 : 1;
  CHECK(within.too_deep / within.meetings < 0.006 * scatter);
  CHECK(within.shallow / within.meetings < 0.012 * scatter);
  CHECK(within.twins / within.meetings < 0.02 * scatter);
  CHECK(across.too_deep / across.meetings < 0.006 * scatter);
  CHECK(across.shallow / across.meetings < 0.1 * scatter);
  CHECK(across.twins / across.meetings < 0.06 * scatter);
  CHECK(rows <= 2);
  CHECK(rows_across <= 12);
  CHECK(bare / static_cast<double>(walls.size()) < (sanitized ? 0.1 : 0.08));
}

}  // namespace petalproof::testing
