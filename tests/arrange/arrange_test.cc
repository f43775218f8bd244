#include "engine/scene/arrange.h"

#include "engine/plan/plan_defaults.h"
#include "tests/arrange/measures.h"
#include "tests/arrange/random_tables.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdint>
#include <set>

namespace petalproof::testing {
namespace {

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
constexpr std::uint64_t tables = 40;  // they take long there
#else
constexpr std::uint64_t tables = 200;
#endif

ArrangeRequest threePanels(int blooms) {
  ArrangeRequest request;
  request.wall = defaultWall(Units::inch);
  request.wall.columns = 3;
  request.wall.rows = 1;
  request.wall.panel = {{24}, {18}};
  request.wall.grid = Grid<Cell>(3, 1, Cell{"sun", false});
  Bloom bloom;
  bloom.name = "ember";
  bloom.diameter = {8};
  bloom.colours = {Colour{180, 83, 47}};
  request.blooms = {bloom};
  request.counts = {{"ember", blooms, ""}};
  return request;
}

std::map<std::string, int> wanted(const ArrangeRequest& request) {
  std::map<std::string, int> numbers;
  for (const KindCount& count : request.counts) numbers[count.bloom] += count.on_wall;
  return numbers;
}

int panelsOf(const Grid<Cell>& grid, const std::string& layout) {
  return static_cast<int>(std::count_if(grid.cells().begin(), grid.cells().end(),
                                        [&](const Cell& cell) { return cell.layout == layout; }));
}

// What holds of every wall, whatever the table.
void checkAlways(const ArrangeRequest& request, const Plan& plan, const Scene& scene) {
  CHECK(onWall(plan) == wanted(request));
  const PlateMeasure plates = plateMeasure(scene);
  CHECK(plates.least_gap_mm > 0);
  CHECK(plates.farthest_off_board_mm < 0.01);
  CHECK(whollyInside(scene, plan) == 0);
  CHECK(mostAlike(plan) <= 0.5);
  const Overhang overhang = overhangOf(scene, plan);
  CHECK(overhang.small_share <= 1.0 / 3 + 0.05);
  CHECK(overhang.large_mm <= 12.7);  // half an inch: tips of petals
}

}  // namespace

TEST_CASE("Seven of a kind over three panels: a layout of its own, and said how") {
  const ArrangeRequest request = threePanels(7);
  const Arrangement arrangement = arrange(request);
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
  const ArrangeRequest request = threePanels(9);
  const Arrangement arrangement = arrange(request);
  REQUIRE(arrangement.layouts.size() == 1);
  CHECK(arrangement.layouts[0].blooms.size() == 3);
  CHECK(arrangement.grid == request.wall.grid);
  CHECK(arrangement.dealt.empty());
}

TEST_CASE("Blooms of one layout stay in its cells") {
  ArrangeRequest request = threePanels(4);
  request.wall.grid.at(1, 0).layout = "dusk";
  request.counts = {{"ember", 2, "sun"}, {"ember", 3, "dusk"}, {"ember", 5, "dawn"}};
  const Arrangement arrangement = arrange(request);
  REQUIRE(arrangement.layouts.size() == 2);
  CHECK(arrangement.layouts[0].name == "sun");
  CHECK(arrangement.layouts[0].blooms.size() == 1);
  CHECK(arrangement.layouts[1].name == "dusk");
  CHECK(arrangement.layouts[1].blooms.size() == 3);
  REQUIRE(arrangement.dealt.size() == 1);
  CHECK(arrangement.dealt[0] == "5 \"ember\" found no place: no panel has the layout \"dawn\"");
}

TEST_CASE("More plates than the board holds: some are left out, and said") {
  ArrangeRequest request = threePanels(3 * 400);
  const Arrangement arrangement = arrange(request);
  const Plan plan = planOf(request, arrangement);
  const Scene scene = sceneOf(plan);
  CHECK(plateMeasure(scene).least_gap_mm > 0);
  const int hung = onWall(plan).at("ember");
  CHECK(hung > 3 * 20);
  REQUIRE(arrangement.dealt.size() == 1);
  CHECK(arrangement.dealt[0] == std::to_string(400 - hung / 3) +
                                    " \"ember\" of each \"sun\" found no place: base plates would touch");
}

TEST_CASE("A table's wall is the same each time, and another by another seed") {
  ArrangeRequest request = randomTable(5);
  const Arrangement first = arrange(request);
  const Arrangement again = arrange(request);
  CHECK(first.layouts == again.layouts);
  CHECK(first.grid == again.grid);
  CHECK(first.dealt == again.dealt);
  request.seed += 1;
  CHECK(arrange(request).layouts != first.layouts);
}

TEST_CASE("Lengths in another unit: the same kind of wall") {
  ArrangeRequest request = threePanels(9);
  request.units = Units::centimetre;
  request.wall.panel = {{60}, {45}};
  request.wall.seam = {0.15};
  request.blooms[0].diameter = {20};
  const Scene scene = sceneOf(planOf(request, arrange(request)));
  const PlateMeasure plates = plateMeasure(scene);
  CHECK(plates.least_gap_mm > 0);
  CHECK(plates.farthest_off_board_mm < 0.01);
}

TEST_CASE("200 random tables: counts, plates, overlaps, no rows, no two layouts alike, little bare board") {
  double bare = 0;
  double meetings = 0;
  double too_deep = 0;
  double shallow = 0;
  double twins = 0;
  int rows = 0;
  int walls = 0;
  for (std::uint64_t seed = 1; seed <= tables; ++seed) {
    CAPTURE(seed);
    const bool usual = seed % 25 == 0;
    const ArrangeRequest request = randomTable(seed, usual ? TableSize::usual : TableSize::small);
    const Plan plan = planOf(request, arrange(request));
    const Scene scene = sceneOf(plan);
    checkAlways(request, plan, scene);
    const std::vector<double> overlaps = overlapShares(scene, plan);
    for (const double share : overlaps) {
      CHECK(share < 0.7);
      too_deep += share > 1.0 / 3 + 0.01 ? 1 : 0;
      shallow += share < 1.0 / 6 - 0.01 ? 1 : 0;
    }
    meetings += static_cast<double>(overlaps.size());
    twins += twinShare(scene, plan) * static_cast<double>(overlaps.size());
    rows += straightRows(plan);
    bare += bareShare(scene);
    ++walls;
  }
  CHECK(too_deep / meetings < 0.03);
  CHECK(shallow / meetings < 0.15);
  CHECK(twins / meetings < 0.08);
  CHECK(rows <= walls / 50 + 1);
  CHECK(bare / walls < 0.12);
}

}  // namespace petalproof::testing
