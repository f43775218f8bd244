// More blur, a smaller picture, a greater distance, a board colour nearer to its neighbours: none makes a gap
// of a modelled wall differ more, but for the few per cent that the light-dark kernel's negative lobe
// explains (X. Zhang, B. A. Wandell, 1996: its widest Gaussian has the weight -0.108, a tenth).

#include "engine/check/shot_checker.h"
#include "engine/plan/read_plan.h"
#include "tests/support/pool.h"
#include "tests/support/sanitized.h"

#include <doctest/doctest.h>

#include <algorithm>

namespace petalproof {
namespace {

constexpr double lobe = 0.08;  // its share in a kernel is 0.108 / 0.918, all of which no gap gets
constexpr double lobe_of_all = 0.01;
constexpr double rounding = 0.3;  // of a difference: a smaller picture has other pixels

// The plan is in inches.
Length inches(double mm) { return Length{mm / 25.4}; }

struct TinyWall {
  plan::LoadedPlan loaded;
  scene::Scene scene;
  plan::Shot shot;
};

TinyWall tinyWall(std::uint64_t seed) {
  TinyWall wall{*loadPlan(PETALPROOF_SOURCE_DIR "/assets/plans/tiny.toml").value, {}, {}};
  wall.loaded.plan.seed = seed;
  wall.scene = *buildScene(wall.loaded).value;
  wall.shot = wall.loaded.plan.shots.front();
  wall.shot.megapixels = 3;
  wall.shot.focus = inches(1800);  // somebody stands before it
  wall.shot.looked_at = plan::LookedAt{"", inches(200), inches(350)};
  return wall;
}

std::vector<double> differences(check::ShotChecker& checker, const plan::Shot& shot,
                                const scene::SceneColours& colours) {
  const Result<check::ShotCheck> done = checker.check(shot, {}, colours);
  REQUIRE(done);
  std::vector<double> all;
  for (const reading::Reading& reading : done.value->readings) all.push_back(reading.difference);
  return all;
}

double sumOf(const std::vector<double>& values) {
  double total = 0;
  for (const double value : values) total += value;
  return total;
}

void checkNoneGrows(const std::vector<double>& earlier, const std::vector<double>& later) {
  REQUIRE(earlier.size() == later.size());
  REQUIRE_FALSE(earlier.empty());
  for (std::size_t k = 0; k < earlier.size(); ++k) {
    CAPTURE(k);
    CHECK(later[k] <= earlier[k] * (1 + lobe) + rounding);
  }
  CHECK(sumOf(later) < sumOf(earlier) * (1 + lobe_of_all));
}

template <class Change>
void checkAlong(const TinyWall& wall, check::ShotChecker& checker, const std::vector<double>& steps,
                const Change& change) {
  std::vector<double> first;
  std::vector<double> before;
  for (const double step : steps) {
    CAPTURE(step);
    plan::Shot shot = wall.shot;
    change(shot, step);
    std::vector<double> now = differences(checker, shot, wall.scene.colours);
    if (!before.empty()) checkNoneGrows(before, now);
    if (first.empty()) first = now;
    before = std::move(now);
  }
  CHECK(sumOf(before) < 0.99 * sumOf(first));
}

}  // namespace

TEST_CASE("farther from the eye, smaller or more blurred a gap never differs more") {
  for (std::uint64_t seed = 1; seed <= testing::fewerIfSanitized<std::uint64_t>(2); ++seed) {
    CAPTURE(seed);
    const TinyWall wall = tinyWall(seed);
    check::ShotChecker checker(wall.loaded, wall.scene, testing::allThreads());
    checkAlong(wall, checker, {350, 600, 1100},
               [](plan::Shot& shot, double distance) { shot.looked_at->distance = inches(distance); });
    checkAlong(wall, checker, {200, 120, 65},
               [](plan::Shot& shot, double width) { shot.looked_at->width = inches(width); });
    checkAlong(wall, checker, {11, 4, 1.4}, [](plan::Shot& shot, double stop) { shot.aperture = stop; });
  }
}

TEST_CASE("a board colour nearer to what surrounds it never differs more") {
  const TinyWall wall = tinyWall(4);
  check::ShotChecker checker(wall.loaded, wall.scene, testing::allThreads());
  // Greys: what surrounds the gaps are papers of a middle lightness.
  std::vector<double> first;
  std::vector<double> before;
  for (const std::uint8_t grey : std::initializer_list<std::uint8_t>{255, 225, 195, 170}) {
    CAPTURE(static_cast<int>(grey));
    scene::SceneColours colours = wall.scene.colours;
    colours.board = colours.board_edge = Colour{grey, grey, grey};
    std::vector<double> now = differences(checker, wall.shot, colours);
    if (!before.empty()) checkNoneGrows(before, now);
    if (first.empty()) first = now;
    before = std::move(now);
  }
  CHECK(sumOf(before) < 0.99 * sumOf(first));
}

}  // namespace petalproof
