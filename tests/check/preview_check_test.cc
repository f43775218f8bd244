// The small check says what the full one says, as far as its pixels go.

#include "engine/check/preview_check.h"
#include "engine/camera/projection.h"

#include "engine/check/shot_checker.h"
#include "engine/plan/read_plan.h"
#include "tests/support/pool.h"

#include <doctest/doctest.h>

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <filesystem>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::camera;
using namespace petalproof::gaps;
using namespace petalproof::check;

namespace {

LoadedPlan demo() {
  auto loaded = loadPlan(std::filesystem::path(PETALPROOF_SOURCE_DIR) / "assets/plans/demo.toml");
  REQUIRE(loaded);
  return *loaded.value;
}

double areaOf(const GapsOfShot& found) {
  double sum = found.specks.area_mm2;
  for (const Gap& gap : found.gaps) sum += gap.area_mm2;
  return sum;
}

}  // namespace

TEST_CASE("a preview has the megapixels it was asked for and the same frame") {
  const LoadedPlan loaded = demo();
  for (const Shot& shot : loaded.plan.shots) {
    const auto camera = makeCamera(shot, wallFrameOf(loaded.plan));
    REQUIRE(camera);
    const Camera small = atPreviewSize(*camera.value, 2);
    CHECK(small.width_px * small.height_px == doctest::Approx(2e6).epsilon(0.002));
    CHECK(fieldOfView(small).across_deg ==
          doctest::Approx(fieldOfView(*camera.value).across_deg).epsilon(1e-9));
    CHECK(atPreviewSize(*camera.value, 1000).width_px == camera.value->width_px);
  }
}

TEST_CASE("a picture that is no larger than a preview is checked as it is") {
  LoadedPlan loaded = demo();
  Shot shot = loaded.plan.shots[0];
  shot.megapixels = 1;
  const auto scene = buildScene(loaded);
  REQUIRE(scene);
  ShotChecker checker(loaded, *scene.value, testing::allThreads(), false);
  const auto full = checker.check(shot);
  const auto preview = PreviewCheck(testing::allThreads()).check(loaded.plan, *scene.value, shot);
  REQUIRE(full);
  REQUIRE(preview);
  REQUIRE(preview.value->found.gaps.size() == full.value->found.gaps.size());
  CHECK(areaOf(preview.value->found) == areaOf(full.value->found));
  CHECK(preview.value->shares.board == full.value->shares.board);
}

TEST_CASE("a preview sees as much bare wall as the full check, and every large gap") {
  LoadedPlan loaded = demo();
  Shot shot = loaded.plan.shots[1];
  const auto scene = buildScene(loaded);
  REQUIRE(scene);
  ShotChecker checker(loaded, *scene.value, testing::allThreads(), false);
  const auto full = checker.check(shot);
  const auto preview = PreviewCheck(testing::allThreads()).check(loaded.plan, *scene.value, shot);
  REQUIRE(full);
  REQUIRE(preview);
  // Of some 100,000 bare pixels, by chance about one standard deviation of their rims.
  CHECK(areaOf(preview.value->found) == doctest::Approx(areaOf(full.value->found)).epsilon(0.01));
  int large = 0;
  for (const Gap& gap : full.value->found.gaps) {
    if (gap.width_mm < 15) continue;
    ++large;
    CAPTURE(gap.number);
    bool seen = false;
    // A neck a pixel wide joins two gaps in one picture and not in the other: their middles move, not their
    // widest place.
    for (const Gap& small : preview.value->found.gaps)
      seen =
          seen || (small.owner == gap.owner && std::abs(small.width_mm - gap.width_mm) < 4 &&
                   glm::distance(small.centre_mm, gap.centre_mm) < std::max(small.length_mm, gap.length_mm));
    CHECK(seen);
  }
  CHECK(large > 5);
}

TEST_CASE("of a zoom the preview shows the end with more bare wall, as the full check does") {
  LoadedPlan loaded = demo();
  Shot shot = loaded.plan.shots[0];
  shot.lens = {70, false, 200};
  const auto scene = buildScene(loaded);
  REQUIRE(scene);
  ShotChecker checker(loaded, *scene.value, testing::allThreads(), false);
  const auto full = checker.check(shot);
  const auto preview = PreviewCheck(testing::allThreads()).check(loaded.plan, *scene.value, shot);
  REQUIRE(preview);
  CHECK(preview.value->lens.mm == full.value->lens.mm);
  shot.camera_out = {-5};
  CHECK(!PreviewCheck(testing::allThreads()).check(loaded.plan, *scene.value, shot));
}
