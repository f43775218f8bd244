#include "engine/hands/internal/hand_demands.h"

#include "engine/candidates/silhouette.h"
#include "tests/fill/bare_wall.h"

#include <doctest/doctest.h>

#include <random>
#include <vector>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::candidates;
using namespace petalproof::hands;
using petalproof::testing::barePanel;

// Bins, reaches and views that are seen one after the other must make no difference.
TEST_CASE("what a filler hides of builds is what its silhouette in each of them hides") {
  const LoadedPlan plan = barePanel(900, 600, 170);
  const Result<FillerMaker> maker = FillerMaker::forPlan(plan);
  const Result<Scene> scene = buildScene(plan);
  REQUIRE(maker);
  REQUIRE(scene);
  const HandErrors errors{0.05, 0.2, 14, 15, 4, 3};
  std::vector<HandBuild> builds;
  for (std::uint64_t k = 0; k < 6; ++k) builds.emplace_back(*scene.value, errors, 3, k);
  const std::vector<glm::dvec3> eyes{{450, 300, 1500}, {1800, 900, 900}};

  HandDemands demands(*maker.value, {900, 600});
  std::vector<Eye> by_view;
  std::mt19937_64 random(5);
  std::uniform_real_distribution<double> share(0, 1);
  for (std::uint32_t build = 0; build < builds.size(); ++build)
    for (const glm::dvec3& at : eyes) {
      std::vector<glm::dvec2> places;
      for (int k = 0; k < 60; ++k) places.emplace_back(900 * share(random), 600 * share(random));
      const std::uint32_t view = demands.addView(at, &builds[build], build);
      demands.add(view, places, 0.5F);
      by_view.push_back(Eye{at, &builds[build], {}, {}});
    }
  REQUIRE(demands.size() == 720);
  CHECK(demands.buildOf(719) == 5);

  std::size_t found = 0;
  for (int k = 0; k < 30; ++k) {
    Candidate one;
    one.site.board_mm = {900 * share(random), 600 * share(random)};
    one.site.from_corner_mm = {one.site.board_mm.x, 600 - one.site.board_mm.y};
    for (const std::uint32_t from : {0U, 333U}) {
      std::vector<std::uint32_t> expected;
      for (std::uint32_t d = from; d < demands.size(); ++d)
        if (hides(silhouetteOf(*maker.value, one, by_view[demands[d].view]), demands[d].at_mm))
          expected.push_back(d);
      CHECK(demands.hiddenBy(one, from) == expected);
      found += expected.size();
    }
  }
  CHECK(found > 500);
}
