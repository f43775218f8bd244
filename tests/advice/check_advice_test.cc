// Advice on a real check: every number it gives is what a check of the changed plan finds.
#include "engine/advice/check_advice.h"

#include "tests/check/simple_walls.h"
#include "tests/support/pool.h"

#include <doctest/doctest.h>

#include <utility>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::check;
using namespace petalproof::advice;

namespace {

// A small wall of dark red discs with a little white board between them.
SimpleWall discsOnWhite() {
  SimpleWall wall = simpleWall(1, 1, 600, 450, 0);
  Plan& plan = wall.loaded.plan;
  Bloom disc;
  disc.name = "disc";
  disc.diameter = {210};
  disc.colours = {{0x8a, 0x2a, 0x2a}};
  plan.blooms = {disc};
  plan.layouts[0].blooms = {Placement{"disc", {{100}, {100}}, 0, {0}, {}}};
  wall.scene.colours = {{255, 255, 255}, {255, 255, 255}, {40, 40, 40}, {128, 128, 128}};
  for (double y = 0; y < 450; y += 150)
    for (double x = 0; x < 600; x += 150) addDisc(wall.scene, {x, y}, 102, 20);
  for (BloomInstance& bloom : wall.scene.blooms) bloom.colour = disc.colours[0];
  Shot shot = facingShot(wall, "portrait", 1000, 85, 0.05);
  shot.aperture = 2.8;
  plan.shots = {shot};
  return wall;
}

// With readings.
Check read(const SimpleWall& wall, const CheckOptions& options = {}) {
  return std::move(runCheck(wall.loaded, wall.scene, testing::allThreads(), options).value.value());
}

AdvisedCheck advisedCheck(const SimpleWall& wall, const CheckOptions& options,
                          const Pool& pool = testing::allThreads()) {
  return std::move(checkWithAdvice(wall.loaded, wall.scene, pool, options).value.value());
}

ReadingCounts countsOfCheck(const SimpleWall& wall) { return countsOf(read(wall).shots.at(0).readings); }

}  // namespace

TEST_CASE("advice gives the numbers that a check of the changed plan finds") {
  const SimpleWall wall = discsOnWhite();
  CheckOptions options;
  const AdvisedCheck advised = advisedCheck(wall, options);
  const Check& check = advised.check;
  const Advice& advice = advised.advice;
  CHECK(advice.now == countsOf(check.shots[0].readings));
  REQUIRE(advice.now.show > 0);
  REQUIRE(advice.colours.size() == 3);  // the discs' red, black and kraft
  for (const TriedColour& tried : advice.colours) {
    CAPTURE(tried.board.name);
    SimpleWall covered = wall;
    covered.scene.colours.board = tried.board.colour;
    CHECK(tried.counts == countsOfCheck(covered));
  }
  CHECK(advice.colours[0].board.name == "the red of disc");
  REQUIRE(advice.shots.size() == 1);
  for (const auto& tried : {advice.shots[0].remedy, advice.shots[0].best}) {
    if (!tried) continue;
    SimpleWall changed = wall;
    changed.loaded.plan.shots = {tried->change.shot};
    CHECK(tried->counts == countsOfCheck(changed));
  }
}

TEST_CASE("advice is the same for any number of threads") {
  const SimpleWall wall = discsOnWhite();
  const Advice one = advisedCheck(wall, {}, Pool(1)).advice;
  const Advice three = advisedCheck(wall, {}, Pool(3)).advice;
  CHECK(one.now == three.now);
  REQUIRE(one.colours.size() == three.colours.size());
  for (std::size_t k = 0; k < one.colours.size(); ++k) {
    CHECK(one.colours[k].board.colour == three.colours[k].board.colour);
    CHECK(one.colours[k].counts == three.colours[k].counts);
  }
  REQUIRE(one.shots.size() == three.shots.size());
  for (std::size_t k = 0; k < one.shots.size(); ++k) {
    CHECK(one.shots[k].tried == three.shots[k].tried);
    CHECK(one.shots[k].remedy.has_value() == three.shots[k].remedy.has_value());
    CHECK(one.shots[k].best.has_value() == three.shots[k].best.has_value());
  }
}
