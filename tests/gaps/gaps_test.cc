#include "engine/gaps/gaps.h"

#include "tests/gaps/synthetic.h"
#include "tests/support/pool.h"

#include <doctest/doctest.h>

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <string>

using namespace petalproof;
using namespace petalproof::scene;
using namespace petalproof::camera;
using namespace petalproof::visibility;
using namespace petalproof::gaps;

namespace {

bool everywhere(glm::dvec2) { return true; }

std::map<std::string, double> areasByName(const GapsOfShot& found) {
  std::map<std::string, double> areas;
  for (const Gap& gap : found.gaps) areas[nameOf(gap.owner)] += gap.area_mm2;
  return areas;
}

bool sameGaps(const GapsOfShot& a, const GapsOfShot& b) {
  return a.specks.count == b.specks.count && a.specks.area_mm2 == b.specks.area_mm2 &&
         std::equal(
             a.gaps.begin(), a.gaps.end(), b.gaps.begin(), b.gaps.end(), [](const Gap& p, const Gap& q) {
               return p.number == q.number && p.owner == q.owner && p.centre_mm == q.centre_mm &&
                      p.area_mm2 == q.area_mm2 && p.width_mm == q.width_mm && p.length_mm == q.length_mm &&
                      p.pixels == q.pixels && p.outline_mm == q.outline_mm && p.runs == q.runs;
             });
}

// Round holes at random places; enough of them to touch.
IsBare randomHoles(std::uint64_t seed, const PanelGrid& panels, int count, double smallest, double largest) {
  Random random(seed);
  std::vector<glm::dvec3> holes;
  for (int k = 0; k < count; ++k)
    holes.emplace_back(random.between(0, panels.width_mm()), random.between(0, panels.height_mm()),
                       random.between(smallest, largest));
  return [holes](glm::dvec2 p) {
    return std::any_of(holes.begin(), holes.end(),
                       [&](const glm::dvec3& hole) { return glm::distance(p, glm::dvec2(hole)) <= hole.z; });
  };
}

}  // namespace

TEST_CASE("a bare wall is divided among crossings, seams and panels") {
  const PanelGrid panels = gridOf(2, 2, 400, 300, 2);
  const Camera camera = headOnCamera({401, 301}, 0.5, 1700, 1300);
  const GapsOfShot found =
      findGaps(pictureOf(panels, camera, everywhere), panels, camera, testing::allThreads());
  CHECK(found.gaps.size() == 9);
  auto areas = areasByName(found);
  const double disc = 3.14159265358979 * 625;
  CHECK(areas["A1+B2"] == doctest::Approx(disc).epsilon(0.005));
  CHECK(areas["A1"] == doctest::Approx((401 - 25) * (301 - 25)).epsilon(0.003));
  double sum = 0;
  for (const auto& [name, area] : areas) sum += area;
  CHECK(sum == doctest::Approx(802 * 602).epsilon(1e-3));
  CHECK(areas["A1"] == doctest::Approx(areas["B2"]).epsilon(0.002));
  CHECK(areas["A1|B1"] == doctest::Approx(areas["A2|B2"]).epsilon(0.002));
  CHECK(areas["A1/A2"] == doctest::Approx(areas["B1/B2"]).epsilon(0.002));
  // In the order of their first pixels, left to right, from the top.
  CHECK(nameOf(found.gaps[0].owner) == "A1");
  CHECK(nameOf(found.gaps[1].owner) == "A1|B1");
  CHECK(nameOf(found.gaps[2].owner) == "B1");
  for (std::size_t k = 0; k < found.gaps.size(); ++k) CHECK(found.gaps[k].number == static_cast<int>(k) + 1);
}

TEST_CASE("on covered ground only the slits are bare") {
  PanelGrid panels = gridOf(2, 2, 400, 300, 4);
  panels.ground_covered = true;
  const Camera camera = headOnCamera({402, 302}, 0.5, 1700, 1300);
  const GapsOfShot found =
      findGaps(pictureOf(panels, camera, everywhere), panels, camera, testing::allThreads());
  auto areas = areasByName(found);
  CHECK(areas.size() == 5);
  CHECK(areas["A1|B1"] == doctest::Approx(4 * (302 - 25)).epsilon(0.01));
  CHECK(areas["A1/A2"] == doctest::Approx(4 * (402 - 25)).epsilon(0.01));
  CHECK(areas["A1+B2"] == doctest::Approx(4 * 50 * 2 - 16).epsilon(0.01));
  CHECK(isBare(PixelId(Sees::seam, 0), panels));
  CHECK_FALSE(isBare(PixelId(Sees::board, 3), panels));
  panels.ground_covered = false;
  CHECK(isBare(PixelId(Sees::board, 3), panels));
  CHECK_FALSE(isBare(PixelId(Sees::behind, 0), panels));
  CHECK_FALSE(isBare(PixelId(Sees::bloom, 0), panels));
  CHECK_FALSE(isBare(PixelId(), panels));
}

TEST_CASE("slits beside a missing panel are no gaps") {
  PanelGrid panels = gridOf(2, 1, 400, 300, 4);
  panels.ground_covered = true;
  panels.has_panel.at(1, 0) = 0;
  const Camera camera = headOnCamera({402, 150}, 0.5, 1700, 700);
  CHECK(findGaps(pictureOf(panels, camera, everywhere), panels, camera, testing::allThreads()).gaps.empty());
}

TEST_CASE("one hole across a seam is three gaps, and their areas add up") {
  const PanelGrid panels = gridOf(2, 1, 400, 300, 1);
  const Camera camera = headOnCamera({400.5, 150}, 0.25, 1200, 800);
  const IsBare hole = [](glm::dvec2 p) { return glm::distance(p, glm::dvec2(400.5, 150)) <= 60; };
  auto areas = areasByName(findGaps(pictureOf(panels, camera, hole), panels, camera, testing::allThreads()));
  REQUIRE(areas.size() == 3);
  // A strip of half width 25 about the middle of a disc of radius 60.
  const double strip = 2 * (25 * std::sqrt(3600.0 - 625) + 3600 * std::asin(25 / 60.0));
  CHECK(areas["A1|B1"] == doctest::Approx(strip).epsilon(0.005));
  CHECK(areas["A1"] == doctest::Approx((3.14159265358979 * 3600 - strip) / 2).epsilon(0.005));
  CHECK(areas["B1"] == doctest::Approx(areas["A1"]).epsilon(0.005));
}

TEST_CASE("people who hide more than half of a gap are told") {
  const PanelGrid panels = gridOf(1, 1, 1000, 1000, 0);
  const Camera camera = headOnCamera({500, 500}, 1, 200, 200);
  VisibilityBuffer buffer = pictureOf(
      panels, camera, [](glm::dvec2 p) { return std::abs(p.x - 500) < 10 && std::abs(p.y - 500) < 10; });
  const auto hideLeftOf = [&](int column) {
    buffer.people.assign(buffer.ids.size(), 0);
    for (int y = 0; y < 200; ++y)
      for (int x = 0; x < column; ++x) buffer.people[buffer.offset(x, y)] = 1;
    return findGaps(buffer, panels, camera, testing::allThreads()).gaps.at(0).behind_people;
  };
  CHECK_FALSE(findGaps(buffer, panels, camera, testing::allThreads()).gaps.at(0).behind_people);
  CHECK_FALSE(hideLeftOf(100));  // exactly half of the columns 90 to 109
  CHECK(hideLeftOf(101));
}

TEST_CASE("gaps don't depend on the number of threads") {
  const PanelGrid panels = gridOf(5, 4, 300, 260, 3);
  const Camera camera = cameraAt(panels, {2600, 400, 1300}, {700, 500}, 35, 3);
  const VisibilityBuffer buffer = pictureOf(panels, camera, randomHoles(7, panels, 150, 3, 60));
  const GapsOfShot one = findGaps(buffer, panels, camera, testing::oneThread());
  CHECK(one.gaps.size() > 50);
  for (const int threads : {0, 2, 7}) CHECK(sameGaps(one, findGaps(buffer, panels, camera, Pool(threads))));
}

TEST_CASE("a mirrored picture has mirrored gaps") {
  const PanelGrid panels = gridOf(4, 3, 310, 270, 2);
  const double width = panels.width_mm();
  for (std::uint64_t seed = 1; seed <= 6; ++seed) {
    CAPTURE(seed);
    const IsBare holes = randomHoles(seed, panels, 60, 5, 50);
    const IsBare mirrored_holes = [&](glm::dvec2 p) { return holes({width - p.x, p.y}); };
    const glm::dvec3 at(width * 1.3, 300, 1500);
    const Camera camera = cameraAt(panels, at, {500, 420}, 35, 1);
    const Camera mirrored = cameraAt(panels, {width - at.x, at.y, at.z}, {width - 500, 420}, 35, 1);
    const GapsOfShot found =
        findGaps(pictureOf(panels, camera, holes), panels, camera, testing::allThreads());
    const GapsOfShot other =
        findGaps(pictureOf(panels, mirrored, mirrored_holes), panels, mirrored, testing::allThreads());
    REQUIRE(found.gaps.size() == other.gaps.size());
    CHECK(found.specks.count == other.specks.count);
    CHECK(found.specks.area_mm2 == doctest::Approx(other.specks.area_mm2).epsilon(1e-6));
    for (const Gap& gap : found.gaps) {
      const glm::dvec2 expected(width - gap.centre_mm.x, gap.centre_mm.y);
      const auto match = std::find_if(other.gaps.begin(), other.gaps.end(), [&](const Gap& candidate) {
        return glm::distance(candidate.centre_mm, expected) < 1e-3 && candidate.pixels == gap.pixels;
      });
      REQUIRE(match != other.gaps.end());
      CHECK(match->area_mm2 == doctest::Approx(gap.area_mm2).epsilon(1e-6));
      CHECK(match->length_mm == doctest::Approx(gap.length_mm).epsilon(1e-6));
      CHECK(std::abs(match->width_mm - gap.width_mm) < largestFootprint(camera, gap.centre_mm));
      CHECK(match->owner.kind == gap.owner.kind);
    }
  }
}

TEST_CASE("an empty picture has no gaps") {
  const PanelGrid panels = gridOf(1, 1, 1000, 1000, 0);
  const Camera camera = headOnCamera({500, 500}, 1, 50, 40);
  const GapsOfShot found = findGaps(pictureOf(panels, camera, [](glm::dvec2) { return false; }), panels,
                                    camera, testing::allThreads());
  CHECK(found.gaps.empty());
  CHECK(found.specks.count == 0);
}

TEST_CASE("gaps of a mask of bare pixels are those of a picture's ids") {
  const PanelGrid panels = gridOf(3, 2, 300, 250, 3);
  for (const std::uint64_t seed : {5U, 6U}) {
    CAPTURE(seed);
    const Camera camera = cameraAt(panels, {700, 200, 900}, {420, 260}, 35, 0.4);
    const VisibilityBuffer seen = pictureOf(panels, camera, randomHoles(seed, panels, 90, 1, 40));
    PixelMask bare;
    bare.width_px = seen.width_px;
    bare.height_px = seen.height_px;
    bare.words.resize(static_cast<std::size_t>(bare.wordsARow()) * static_cast<std::size_t>(bare.height_px));
    for (int y = 0; y < seen.height_px; ++y)
      for (int x = 0; x < seen.width_px; ++x)
        if (isBare(seen.id(x, y), panels)) bare.row(y)[x / 64] |= std::uint64_t{1} << (x % 64);
    for (const GapMeasures measures : {GapMeasures::all, GapMeasures::widths}) {
      const GapsOfShot by_ids = findGaps(seen, panels, camera, testing::oneThread(), measures);
      CHECK(by_ids.gaps.size() > 20);
      CHECK(by_ids.specks.count > 0);
      CHECK(sameGaps(findGaps(bare, panels, camera, measures), by_ids));
    }
  }
}
