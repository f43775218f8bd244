#include "engine/hands/internal/hands_cover.h"

#include "engine/base/units.h"
#include "engine/scene/filler_maker.h"
#include "tests/fill/bare_wall.h"
#include "tests/support/pool.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <cmath>
#include <string>
#include <utility>
#include <vector>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::candidates;
using namespace petalproof::hands;
using petalproof::testing::barePanel;

namespace {

constexpr double radius_mm = 85;
const glm::dvec3 far_off{450, 300, 100'000};  // from there a disc hides what is within its radius

// Discs of 170 mm on a panel of 900 x 600 mm, seen from far off, hung by hands without errors.
struct ShownWall {
  explicit ShownWall(LoadedPlan of = barePanel(900, 600, 2 * radius_mm))
      : plan(std::move(of)),
        maker(std::move(*FillerMaker::forPlan(plan).value)),
        scene(std::move(*buildScene(plan).value)),
        grid(placeGridOf(scene.panels)),
        sites(plan.plan, scene, maker, grid),
        task{plan.plan, scene, maker, sites, testing::allThreads(), 1, {}, {}},
        build(scene, {}, 1, 0),
        cover(task) {}

  Candidate disc(double x, double y) const { return {0, sites.nearestSite({x, y}), 0, {}}; }
  // A place that shows in so many builds of the last look.
  void shows(glm::dvec2 at, int builds) {
    const std::vector<const HandBuild*> hung{&build, &build, &build};
    for (int k = 0; k < builds; ++k)
      cover.addGaps(far_off, next_build + static_cast<std::uint32_t>(k), hung,
                    std::vector<std::vector<glm::dvec2>>{{at}});
  }
  void look(int builds, const std::vector<Candidate>& hung) {
    next_build = last_build + 1;
    last_build += static_cast<std::uint32_t>(builds);
    cover.lookedAt(builds, hung);
  }
  // Which of those given are chosen, by their order.
  std::vector<glm::dvec2> chosen() const {
    std::vector<glm::dvec2> places;
    for (const Candidate& one : cover.chosenFillers()) places.push_back(one.site.board_mm);
    return places;
  }
  // No new candidates, but what the given ones hide of all demands.
  void know() { cover.proposeFrom(cover.demands().size(), Look::wide); }

  LoadedPlan plan;
  FillerMaker maker;
  Scene scene;
  PlaceGrid grid;
  Sites sites;
  SearchTask task;
  HandBuild build;
  HandsCover cover;
  std::uint32_t next_build = 1;
  std::uint32_t last_build = 0;
};

using PlacesOfFillers = std::vector<glm::dvec2>;

}  // namespace

// The place under the second filler showed in 1 of the 20 builds that could show it, in none of the 200 in
// which that filler hid it: that is one wall in 20, not one in 220.
TEST_CASE("fillers are left out by the share of walls that need them, of those that could show it") {
  ShownWall wall;
  const std::vector<Candidate> three{wall.disc(150, 150), wall.disc(450, 300), wall.disc(750, 450)};
  wall.cover.give(three);
  wall.look(20, {});
  wall.shows({160, 150}, 10);
  wall.shows({450, 310}, 1);
  wall.look(200, three);
  wall.shows({30, 570}, 3);  // far from all of them
  wall.know();
  const PlacesOfFillers all = wall.chosen();
  const auto dropFor = [&](double share) {
    wall.cover.dropForFewWalls(share);
    return wall.chosen();
  };
  CHECK(dropFor(0.049) == PlacesOfFillers{all[0], all[1]});
  CHECK(dropFor(0.051) == PlacesOfFillers{all[0]});
  CHECK(dropFor(0.49) == PlacesOfFillers{all[0]});
  CHECK(dropFor(0.51).empty());
}

TEST_CASE("what hides a place of the plan itself is never left out") {
  ShownWall wall;
  wall.cover.give({wall.disc(150, 150), wall.disc(450, 300)});
  MustHide planned;
  planned.eyes.push_back({far_off, nullptr, {}, {{440, 300}}});
  wall.cover.addPlanned(planned);
  wall.know();
  const PlacesOfFillers both = wall.chosen();
  wall.cover.dropForFewWalls(1);
  CHECK(wall.chosen() == PlacesOfFillers{both[1]});
}

namespace {

// Two discs 4 mm apart, whose plates bar each other: only the left one hides what is at its left end, only
// the right one what is at its right end.
struct Rivals : ShownWall {
  Rivals() {
    cover.give({disc(300, 300), disc(304, 300)});
    both = chosen();
    numbers = cover.chosen();
    cover.choose({numbers[0]});
  }
  glm::dvec2 left{300 - radius_mm + 2, 300};
  glm::dvec2 right{304 + radius_mm - 2, 300};
  PlacesOfFillers both;
  HandsCover::Numbers numbers;
};

}  // namespace

TEST_CASE("a filler makes room for one without which more walls show something") {
  Rivals wall;
  wall.look(20, {});
  wall.shows(wall.left, 1);
  wall.shows(wall.right, 10);
  wall.know();
  wall.cover.swapForBare();
  CHECK(wall.chosen() == PlacesOfFillers{wall.both[1]});
}

// Right shows in 3 of 220 builds, left in 2 of the 20 in which nothing hung there.
TEST_CASE("a filler stays where what it hides would show in more walls, seen in however few builds") {
  Rivals wall;
  wall.look(20, {});
  wall.shows(wall.left, 2);
  wall.look(200, {wall.disc(300, 300)});
  wall.shows(wall.right, 3);
  wall.know();
  wall.cover.swapForBare();
  CHECK(wall.chosen() == PlacesOfFillers{wall.both[0]});
}

TEST_CASE("the best filler is added first, as long as it hides enough that is bare") {
  ShownWall wall;
  wall.cover.give({wall.disc(150, 150), wall.disc(450, 300), wall.disc(750, 450)});
  const PlacesOfFillers all = wall.chosen();
  wall.cover.choose({});
  wall.look(20, {});
  wall.shows({150, 150}, 2);
  wall.shows({450, 300}, 5);
  wall.know();
  CHECK(wall.cover.bare().size() == 21);  // each hung three times
  wall.cover.addBest(3, 0);
  CHECK(wall.chosen() == PlacesOfFillers{all[1]});
  wall.cover.addBest(0, 0);
  CHECK(wall.chosen() == PlacesOfFillers{all[1], all[0]});
  CHECK(wall.cover.bare().empty());
}

namespace {

// Buds of 170 mm on plates of 100 mm may fill a panel on which eight small ones, on plates of 40 mm, hang in
// a ring about its middle.
LoadedPlan panelWithRing(double ring_mm) {
  std::string blooms;
  constexpr int posts = 8;
  for (int k = 0; k < posts; ++k) {
    const double a = 2 * pi * k / posts;
    blooms += fmt::format("{{ bloom = \"post\", at = [{:.3f}, {:.3f}] }},", 450 + ring_mm * std::cos(a),
                          300 + ring_mm * std::sin(a));
  }
  const Result<LoadedPlan> loaded = readPlan(fmt::format(R"(
format = 1
title = "Ring"
units = "mm"
[wall]
columns = 1
rows = 1
panel = [900, 600]
grid = [["ring"]]
[[bloom]]
name = "bud"
shape = "bud"
diameter = 170
plate = 100
colour = "#c98a2b"
filler = true
[[bloom]]
name = "post"
shape = "bud"
diameter = 41
plate = 40
colour = "#c98a2b"
[[layout]]
name = "ring"
blooms = [{}]
)",
                                                         blooms),
                                             "ring.toml", ".");
  REQUIRE(loaded);
  return *loaded.value;
}

// How many builds have a place that nothing hides, before and after a close look.
std::pair<int, int> lookInto(double ring_mm) {
  ShownWall wall(panelWithRing(ring_mm));
  wall.look(1, {});
  wall.shows({456, 300}, 1);
  wall.know();
  const int before = wall.cover.buildsWithHopeless(0);
  wall.cover.lookCloselyAtHopeless();
  return {before, wall.cover.buildsWithHopeless(0)};
}

}  // namespace

// Between plates 72 mm from the middle one of 100 mm has 2 mm to each side; outside of the ring it would have
// to sit 131 mm from the middle, too far to hide anything there.
TEST_CASE("a close look finds the few sites between plates of others") {
  CHECK(lookInto(72) == std::pair(1, 0));
  CHECK(lookInto(69) == std::pair(1, 1));
}
