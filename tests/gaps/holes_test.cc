#include "engine/gaps/gaps.h"

#include "tests/gaps/synthetic.h"
#include "tests/support/pool.h"

#include <doctest/doctest.h>

#include <glm/geometric.hpp>

#include <cmath>
#include <set>

using namespace petalproof;
using namespace petalproof::scene;
using namespace petalproof::camera;
using namespace petalproof::visibility;
using namespace petalproof::gaps;

namespace {

// A disc of radius 60 mm across the seam of two panels, seen head-on at 4 pixels a mm.
struct AcrossSeam {
  PanelGrid panels = gridOf(2, 1, 400, 300, 1);
  Camera camera = headOnCamera({400.5, 150}, 0.25, 1200, 800);
  GapsOfShot found = findGaps(
      pictureOf(panels, camera, [](glm::dvec2 p) { return glm::distance(p, glm::dvec2(400.5, 150)) <= 60; }),
      panels, camera, testing::allThreads());
};

}  // namespace

TEST_CASE("what touches is one hole, whoever owns it, with its own width and length") {
  const GapsOfShot found = AcrossSeam().found;
  REQUIRE(found.gaps.size() == 3);
  REQUIRE(found.holes.size() == 1);
  const Hole& hole = found.holes.front();
  CHECK(hole.gaps == std::vector<std::size_t>{0, 1, 2});
  for (const Gap& gap : found.gaps) CHECK(gap.hole == 1);
  CHECK(hole.whole.number == 1);
  CHECK(hole.whole.area_mm2 == doctest::Approx(3.14159265358979 * 3600).epsilon(0.005));
  CHECK(hole.whole.width_mm == doctest::Approx(120).epsilon(0.01));
  CHECK(hole.whole.length_mm == doctest::Approx(120).epsilon(0.01));
  CHECK(hole.width_px == doctest::Approx(480).epsilon(0.01));
  std::int64_t pixels = 0;
  for (const Gap& gap : found.gaps) pixels += gap.pixels;
  CHECK(hole.whole.pixels == pixels);
  // Where it is, is told by its largest gap, the strip about the seam.
  CHECK(nameOf(hole.whole.owner) == "A1|B1");
}

TEST_CASE("holes are numbered by their first pixels, and gaps know theirs") {
  const PanelGrid panels = gridOf(1, 1, 1000, 1000, 0);
  const Camera camera = headOnCamera({500, 500}, 1, 200, 200);
  // From the top of the picture: right, left, middle; a single pixel is a speck and no hole.
  const GapsOfShot found = findGaps(
      pictureOf(
          panels, camera,
          [](glm::dvec2 p) {
            const auto in = [&](glm::dvec2 c, double half) {
              return std::abs(p.x - c.x) < half && std::abs(p.y - c.y) < half;
            };
            return in({560, 560}, 5) || in({440, 540}, 5) || in({500, 470}, 5) || in({520.5, 580.5}, 0.4);
          }),
      panels, camera, testing::allThreads());
  REQUIRE(found.holes.size() == 3);
  CHECK(found.specks.count == 1);
  for (std::size_t k = 0; k < 3; ++k) {
    CHECK(found.holes[k].whole.number == static_cast<int>(k) + 1);
    CHECK(found.gaps[k].hole == static_cast<int>(k) + 1);
  }
  CHECK(found.holes[0].whole.centre_mm.x == doctest::Approx(560).epsilon(0.01));
  CHECK(found.holes[1].whole.centre_mm.x == doctest::Approx(440).epsilon(0.01));
}

TEST_CASE("gaps that touch at a corner only, and specks between them, are one hole") {
  const PanelGrid panels = gridOf(1, 1, 1000, 1000, 0);
  const Camera camera = headOnCamera({500, 500}, 1, 200, 200);
  VisibilityBuffer picture = pictureOf(panels, camera, [](glm::dvec2) { return false; });
  const auto bare = [&](int x0, int y0, int x1, int y1) {
    for (int y = y0; y < y1; ++y)
      for (int x = x0; x < x1; ++x) picture.ids[picture.offset(x, y)] = PixelId(Sees::board, 0);
  };
  bare(50, 50, 60, 60);
  bare(60, 60, 70, 70);  // touches at a corner: 8-connected
  bare(90, 90, 99, 99);
  const GapsOfShot found = findGaps(picture, panels, camera, testing::allThreads());
  CHECK(found.holes.size() == 2);
  CHECK(found.holes[0].whole.pixels == 200);
}

TEST_CASE("a hole behind people is told by its own pixels") {
  AcrossSeam across;
  VisibilityBuffer picture = pictureOf(across.panels, across.camera, [](glm::dvec2 p) {
    return glm::distance(p, glm::dvec2(400.5, 150)) <= 60;
  });
  const auto behind = [&](int columns) {
    picture.people.assign(picture.ids.size(), 0);
    for (int y = 0; y < picture.height_px; ++y)
      for (int x = 0; x < columns; ++x) picture.people[picture.offset(x, y)] = 1;
    return findGaps(picture, across.panels, across.camera, testing::allThreads())
        .holes.at(0)
        .whole.behind_people;
  };
  CHECK_FALSE(behind(590));
  CHECK(behind(610));
}
