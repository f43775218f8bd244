#include "engine/gaps/bare_map.h"

#include "tests/gaps/synthetic.h"
#include "tests/support/pool.h"

#include <doctest/doctest.h>

#include <glm/geometric.hpp>

#include <algorithm>

using namespace petalproof;
using namespace petalproof::scene;
using namespace petalproof::camera;
using namespace petalproof::visibility;
using namespace petalproof::gaps;

namespace {

const PanelGrid panel = gridOf(1, 1, 800, 600, 0);

IsBare band(double from, double to) {
  return [=](glm::dvec2 p) { return p.x >= from && p.x <= to; };
}

void addShot(BareMap& map, const Camera& camera, const IsBare& is_bare) {
  addTo(map, pictureOf(panel, camera, is_bare), panel, camera, testing::allThreads());
}

}  // namespace

TEST_CASE("places seen by several shots count once") {
  // The whole panel from the front and from the side; bands of 200 that overlap by 50.
  const Camera front = cameraAt(panel, {400, 300, 1400}, {400, 300}, 50, 6);
  const Camera side = cameraAt(panel, {1500, 500, 1500}, {400, 300}, 50, 6);
  BareMap map = emptyBareMap(panel);
  CHECK(map.columns == 800);
  CHECK(map.rows == 600);
  CHECK(map.bare_mm2() == 0);
  addShot(map, front, band(200, 400));
  CHECK(map.bare_mm2() == doctest::Approx(200 * 600).epsilon(0.005));
  addShot(map, front, band(200, 400));
  CHECK(map.bare_mm2() == doctest::Approx(200 * 600).epsilon(0.005));
  addShot(map, side, band(350, 550));
  CHECK(map.bare_mm2() == doctest::Approx(350 * 600).epsilon(0.005));
  const auto shotsAt = [&](int x, int y) {
    return int{map.shots[static_cast<std::size_t>(y * map.columns + x)]};
  };
  CHECK(shotsAt(100, 300) == 0);
  CHECK(shotsAt(300, 300) == 2);
  CHECK(shotsAt(375, 300) == 3);
  CHECK(shotsAt(500, 300) == 1);
}

TEST_CASE("only what is in the picture is seen bare") {
  // A frame of 200 x 100 mm.
  BareMap map = emptyBareMap(panel);
  addShot(map, headOnCamera({300, 200}, 0.5, 400, 200), [](glm::dvec2) { return true; });
  CHECK(map.bare_mm2() == 200 * 100);
  for (int y = 0; y < map.rows; ++y)
    for (int x = 0; x < map.columns; ++x) {
      const bool seen = x >= 200 && x < 400 && y >= 150 && y < 250;
      REQUIRE(map.shots[static_cast<std::size_t>(y * map.columns + x)] == (seen ? 1 : 0));
    }
}

TEST_CASE("the map doesn't depend on the number of threads") {
  const Camera side = cameraAt(panel, {1500, 500, 900}, {400, 300}, 35, 1);
  const auto holes = [](glm::dvec2 p) { return glm::distance(glm::mod(p, 70.0), glm::dvec2(35)) < 20; };
  const VisibilityBuffer buffer = pictureOf(panel, side, holes);
  BareMap one = emptyBareMap(panel);
  addTo(one, buffer, panel, side, testing::oneThread());
  CHECK(one.bare_mm2() > 0);
  for (const int threads : {2, 7}) {
    BareMap many = emptyBareMap(panel);
    addTo(many, buffer, panel, side, Pool(threads));
    CHECK(many.shots == one.shots);
  }
}

TEST_CASE("a very large wall has larger cells, and bounded memory") {
  // 200 x 200 panels of 24 x 20 in: 121.9 x 101.6 m, 46.2 times 268 m2: 7 mm.
  const PanelGrid wall = gridOf(200, 200, 609.6, 508, 0);
  const BareMap map = emptyBareMap(wall);
  CHECK(map.cell_mm == 7);
  CHECK(map.shots.size() <= std::size_t{268'435'456});
}

TEST_CASE("255 shots of a place are the most that are counted") {
  BareMap map = emptyBareMap(gridOf(1, 1, 20, 20, 0));
  std::fill(map.shots.begin(), map.shots.end(), std::uint8_t{255});
  const PanelGrid small = gridOf(1, 1, 20, 20, 0);
  const Camera camera = headOnCamera({10, 10}, 1, 20, 20);
  addTo(map, pictureOf(small, camera, [](glm::dvec2) { return true; }), small, camera, testing::allThreads());
  CHECK(map.shots.front() == 255);
  CHECK(map.bare_mm2() == 400);
}
