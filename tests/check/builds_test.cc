#include "engine/check/builds.h"

#include "engine/check/check.h"
#include "engine/check/lost_strip.h"
#include "engine/plan/read_plan.h"
#include "tests/support/pool.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <random>
#include <string>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::gaps;
using namespace petalproof::reading;
using namespace petalproof::check;

namespace {

// One panel, pale, with two discs of paper side by side that leave a slit of board between them.
constexpr const char* two_discs = R"(
format = 1
title = "Two"
units = "mm"
variation = 0
[wall]
columns = 1
rows = 1
panel = [600, 400]
grid = [["a"]]
[[bloom]]
name = "left"
shape = "rosette"
diameter = 390
colour = "#6a2f2f"
[[bloom]]
name = "right"
shape = "rosette"
diameter = 390
colour = "#6a2f2f"
[[layout]]
name = "a"
blooms = [{ bloom = "left", at = [150, 200] }, { bloom = "right", at = [450, 200] }]
[[shot]]
name = "near"
sensor = "full frame"
lens = 85
megapixels = 2
camera = [0, 200, 1500]
aim = [0, 200]
)";

struct Checked {
  LoadedPlan loaded;
  Scene scene;
  Check check;
};

Checked checked(const char* text) {
  Result<LoadedPlan> loaded = readPlan(text, "plan.toml", ".");
  REQUIRE(loaded);
  Result<Scene> scene = buildScene(*loaded.value);
  REQUIRE(scene);
  Result<Check> check = runCheck(*loaded.value, *scene.value, testing::allThreads());
  REQUIRE(check);
  return {std::move(*loaded.value), std::move(*scene.value), std::move(*check.value)};
}

// A crowded panel not much lighter than its blooms: of its gaps some show, some are faint.
std::string crowdedPlan(std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::string text = R"(
format = 1
title = "Crowd"
units = "mm"
[wall]
columns = 1
rows = 1
panel = [600, 400]
board = { colour = "#6a3a36" }
grid = [["a"]]
[[bloom]]
name = "flat"
shape = "rosette"
diameter = 140
colour = "#6a2f2f"
[[bloom]]
name = "deep"
shape = "dahlia"
diameter = 150
colour = "#7a3f35"
[[shot]]
name = "near"
sensor = "full frame"
lens = 85
megapixels = 1
camera = [0, 200, 1500]
aim = [0, 200]
[[layout]]
name = "a"
blooms = [
)";
  for (int k = 0; k < 22; ++k)
    text += fmt::format("{{ bloom = \"{}\", at = [{}, {}] }},\n", k % 2 == 0 ? "flat" : "deep",
                        random() % 600, random() % 400);
  return text + "]\n";
}

// How what is said of gaps compares with their own readings.
struct Agreement {
  int told = 0;  // of those that show
  int missed = 0;
  int alarms = 0;  // of those that don't
  int quiet = 0;
};

void addBuild(const Checked& plan, std::uint64_t number, Agreement& sum, double doubt = 1) {
  const HandBuild build(plan.scene, {0.04, 0.15, 6, 15, 2, 2}, 11, number);
  Scene built = plan.scene;
  built.blooms = builtBlooms(plan.scene, build, greeneryOf(plan.loaded.plan));
  const Result<Check> read = runCheck(plan.loaded, built, testing::allThreads());
  REQUIRE(read);
  const ShotCheck& shot = read.value->shots.front();
  const LostStrips lost(plan.check.shots, Reads::faint, plan.loaded.plan.reading, doubt);
  for (const Gap& gap : shot.found.gaps) {
    const bool noticed = lost.wouldBeNoticed(0, shot.found, gap);
    if (readsOf(shot, gap) == Reads::shows)
      ++(noticed ? sum.told : sum.missed);
    else
      ++(noticed ? sum.alarms : sum.quiet);
  }
}

}  // namespace

TEST_CASE("builds without errors show what the plan shows, and nothing else") {
  const Checked plan = checked(two_discs);
  const ShotCheck& shot = plan.check.shots.front();
  BuildOptions options;
  options.builds = 3;
  const BuildsCheck builds =
      checkBuilds(plan.loaded.plan, plan.scene, plan.check.shots, {}, testing::allThreads(), options);
  CHECK(builds.builds == 3);
  REQUIRE(builds.shots.size() == 1);
  REQUIRE(!shot.readings.empty());
  for (std::size_t gap = 0; gap < shot.found.gaps.size(); ++gap) {
    CAPTURE(gap);
    CHECK(builds.shots[0].shows[gap] == (readsOf(shot, shot.found.gaps[gap]) == Reads::shows ? 3 : 0));
  }
  CHECK(builds.shots[0].elsewhere == 0);
}

TEST_CASE("the same builds for any number of threads") {
  const Checked plan = checked(two_discs);
  const HandErrors errors{0.04, 0.15, 12, 15, 4, 3};
  BuildOptions options;
  options.builds = 40;
  const BuildsCheck one =
      checkBuilds(plan.loaded.plan, plan.scene, plan.check.shots, errors, Pool(1), options);
  for (const int threads : {2, 7}) {
    const BuildsCheck other =
        checkBuilds(plan.loaded.plan, plan.scene, plan.check.shots, errors, Pool(threads), options);
    CHECK(other.clean == one.clean);
    CHECK(other.shots[0].shows == one.shots[0].shows);
  }
}

// Readings vary with what lies beside a gap, so no rule by its width and its neighbour can agree with all of
// them; it rather warns of one too many. One that always warns, or never, fails here.
TEST_CASE("what is said of gaps in builds is mostly what reading them says, both ways") {
  Agreement sum;
  for (const std::uint64_t seed : {1U, 2U, 3U}) {
    const Checked plan = checked(crowdedPlan(seed).c_str());
    for (std::uint64_t build = 0; build < 6; ++build) addBuild(plan, build, sum);
  }
  CAPTURE(sum.told);
  CAPTURE(sum.missed);
  CAPTURE(sum.alarms);
  CAPTURE(sum.quiet);
  REQUIRE(sum.told + sum.missed >= 20);
  REQUIRE(sum.alarms + sum.quiet >= 8);
  CHECK(sum.told >= 0.85 * (sum.told + sum.missed));
  CHECK(sum.quiet >= 0.4 * (sum.alarms + sum.quiet));
}

// As fillers for hands are found: a wall called clean is to be clean.
TEST_CASE("with doubt hardly a gap that shows is missed") {
  Agreement sum;
  for (const std::uint64_t seed : {1U, 2U, 3U}) {
    const Checked plan = checked(crowdedPlan(seed).c_str());
    for (std::uint64_t build = 0; build < 6; ++build) addBuild(plan, build, sum, 1.5);
  }
  CAPTURE(sum.told);
  CAPTURE(sum.missed);
  REQUIRE(sum.told + sum.missed >= 20);
  CHECK(sum.missed <= 0.06 * (sum.told + sum.missed));
}

TEST_CASE("of a wall that shows nothing bare, builds are looked at all the same") {
  std::string text = two_discs;
  const std::string discs =
      "blooms = [{ bloom = \"left\", at = [150, 200] }, { bloom = \"right\", at = [450, 200] }]";
  REQUIRE(text.find(discs) != std::string::npos);
  std::string all_over = "blooms = [";
  for (int x = 0; x <= 600; x += 200)
    for (int y = 0; y <= 400; y += 200)
      all_over += fmt::format("{{ bloom = \"left\", at = [{}, {}] }}, ", x, y);
  text.replace(text.find(discs), discs.size(), all_over + "]");
  const Checked plan = checked(text.c_str());
  REQUIRE(plan.check.shots.front().found.gaps.empty());
  BuildOptions options;
  options.builds = 4;
  const BuildsCheck still = checkBuilds(plan.loaded.plan, plan.scene, plan.check.shots, {0, 0, 1, 0, 0, 0},
                                        testing::allThreads(), options);
  CHECK(still.clean == 4);
  // Discs half as large as planned, some of them, leave bare board between them, which counts without a
  // reading near.
  const BuildsCheck small = checkBuilds(plan.loaded.plan, plan.scene, plan.check.shots,
                                        {0.5, 0, 80, 0, 60, 0}, testing::allThreads(), options);
  CHECK(small.clean < 4);
  CHECK(small.shots[0].elsewhere == 4 - small.clean);
}

TEST_CASE("coverage bits find in each build what ids find") {
  const Result<LoadedPlan> demo = loadPlan(PETALPROOF_SOURCE_DIR "/assets/plans/demo.toml");
  REQUIRE(demo);
  const Result<Scene> scene = buildScene(*demo.value);
  REQUIRE(scene);
  CheckOptions one_shot;
  one_shot.shots = {"guest"};
  const Result<Check> check = runCheck(*demo.value, *scene.value, testing::allThreads(), one_shot);
  REQUIRE(check);
  const HandErrors errors{0.04, 0.15, 12, 15, 4, 3};  // panels stand out from each other, too
  BuildOptions options;
  options.builds = 12;
  const BuildsCheck by_bits =
      checkBuilds(demo.value->plan, *scene.value, check.value->shots, errors, testing::allThreads(), options);
  options.by_ids = true;
  const BuildsCheck by_ids =
      checkBuilds(demo.value->plan, *scene.value, check.value->shots, errors, testing::allThreads(), options);
  CHECK(by_bits.builds == 12);
  CHECK(by_bits.clean == by_ids.clean);
  CHECK(by_bits.shots[0].shows == by_ids.shots[0].shows);
  CHECK(by_bits.shots[0].elsewhere == by_ids.shots[0].elsewhere);
  // Builds differ, or there would be nothing to find.
  CHECK(std::any_of(by_bits.shots[0].shows.begin(), by_bits.shots[0].shows.end(),
                    [](int shows) { return shows > 0 && shows < 12; }));
}

TEST_CASE("a strip that is lost is no wider than a gap that shows, and as wide as one that is lost") {
  const Checked plan = checked(two_discs);
  const ShotCheck& shot = plan.check.shots.front();
  for (std::size_t gap = 0; gap < shot.found.gaps.size(); ++gap) {
    const double lost = widestLostStrip_mm(shot, gap, Reads::lost, plan.loaded.plan.reading);
    const double faint = widestLostStrip_mm(shot, gap, Reads::faint, plan.loaded.plan.reading);
    CHECK(lost <= faint);
    if (readsOf(shot, shot.found.gaps[gap]) == Reads::shows) {
      CHECK(faint < shot.found.gaps[gap].width_mm);
    }
    if (readsOf(shot, shot.found.gaps[gap]) == Reads::lost) {
      CHECK(lost == shot.found.gaps[gap].width_mm);
    }
  }
}

// Where all of n came out clean the bound is in closed form: (1 - confidence)^(1/n). The others: R. Newcombe,
// "Two-sided confidence intervals for the single proportion", Statistics in Medicine 17, 1998, table I, exact
// method: 81 of 263 gives 0.2527 to 0.3676, 15 of 148 gives 0.0578 to 0.1617 (value from memory), 95 % on
// both sides, so 97.5 % on one.
TEST_CASE("what can be said of all builds from some") {
  for (const int builds : {1, 20, 200})
    CHECK(std::abs(atLeastClean(builds, builds, 0.95) - std::pow(0.05, 1.0 / builds)) < 1e-9);
  CHECK(atLeastClean(0, 200, 0.95) == 0);
  CHECK(std::abs(atLeastClean(81, 263, 0.975) - 0.2527) < 0.0001);
  CHECK(std::abs(atLeastClean(15, 148, 0.975) - 0.0578) < 0.0001);
  CHECK(atLeastClean(190, 200, 0.95) < 0.95);
}
