// Fillers in the real window: placed by the button, moved, taken away, saved, opened again.

#include "engine/fill/fill.h"
#include "engine/hands/fill_plan.h"
#include "engine/scene/scene.h"
#include "tests/window/desk.h"
#include "viewer/window/screen_layout.h"
#include "viewer/window/wall_drawing.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::fill;
using namespace petalproof::window_test;

namespace {

constexpr const char* plan_text = R"(format = 1
title = "Two panels"
units = "in"
[wall]
columns = 2
rows = 1
panel = [16, 20]
grid = [["sun", "sun"]]
[[bloom]]
name = "bud"
shape = "pompom"
diameter = 5
colour = "#b4532f"
filler = true
[[bloom]]
name = "ember"
shape = "dahlia"
diameter = 15
colour = "#c2663d"
[[layout]]
name = "sun"
blooms = [ { bloom = "ember", at = [7, 8] }, { bloom = "ember", at = [9, 13] } ]
[[shot]]
name = "couple"
sensor = "full frame"
megapixels = 0.2
lens = 85
camera = [0, 10, 70]
aim = [0, 10]
)";

// Tab and button of the page of fillers.
constexpr int tab_x = 1199;
constexpr int tab_y = 308;
constexpr int button_x = 1035;
constexpr int button_y = 367;

window::DrawingScale scaleOf(const Scene& scene) {
  return window::wholeWall(window::layOutScreen(ImVec2(screen_width, screen_height), 1).main, scene.panels,
                           window::overhangOf(scene), Units::inch, 1);
}

// How free the middle of bloom k is of all that might lie over it.
double freeAbout(const Scene& scene, std::size_t k) {
  double least = 1e9;
  for (std::size_t j = 0; j < scene.blooms.size(); ++j)
    if (j != k)
      least = std::min(least, glm::distance(scene.blooms[k].at_mm, scene.blooms[j].at_mm) -
                                  scene.blooms[j].diameter_mm / 2);
  return least;
}

// The filler that a hand can take hold of best.
std::size_t freestFiller(const Scene& scene) {
  std::size_t best = scene.blooms.size();
  for (std::size_t k = 0; k < scene.blooms.size(); ++k)
    if (scene.blooms[k].panel_column < 0 &&
        (best == scene.blooms.size() || freeAbout(scene, k) > freeAbout(scene, best)))
      best = k;
  REQUIRE(best < scene.blooms.size());
  return best;
}

Scene sceneOf(const Desk& desk) {
  const auto loaded = loadPlan(desk.plan);
  REQUIRE(loaded);
  auto scene = buildScene(*loaded.value);
  REQUIRE(scene);
  return std::move(*scene.value);
}

void dragFreest(Desk& desk, int right_px, int down_px) {
  const Scene scene = sceneOf(desk);
  const ImVec2 at = scaleOf(scene).screenOf(scene.blooms[freestFiller(scene)].at_mm);
  const auto x = static_cast<int>(at.x);
  const auto y = static_cast<int>(at.y);
  REQUIRE(comesTrue([&] {
    desk.screen.drag(x, y, x + right_px, y + down_px);
    return comesTrue([&] { return std::filesystem::exists(desk.journal); }, patience_s);
  }));
}

}  // namespace

TEST_CASE("place fillers, move one, take one away, save, open again: the plan on disk is what was done") {
  Desk desk("Two panels.toml");
  app::write(desk.plan, plan_text);
  const auto loaded = loadPlan(desk.plan);
  REQUIRE(loaded);
  const auto wanted = hands::fillPlan(*loaded.value, Pool());
  REQUIRE(wanted);
  REQUIRE(wanted.value->count > 2);

  desk.start({desk.plan.string()});
  REQUIRE(comesTrue(
      [&] {
        desk.screen.click(tab_x, tab_y);
        desk.screen.click(button_x, button_y);
        return comesTrue([&] { return std::filesystem::exists(desk.journal); }, 40);
      },
      160));
  desk.save();
  const Plan placed = desk.saved();
  CHECK(placed.fillers == wanted.value->filled.plan.fillers);
  CHECK(placed.layouts == loaded.value->plan.layouts);

  // 40 pixels to the right and 20 down, however slow the pictures are.
  const Scene before = sceneOf(desk);
  const auto held = static_cast<std::size_t>(before.blooms[freestFiller(before)].index);
  dragFreest(desk, 40, 20);
  desk.save();
  const Plan moved = desk.saved();
  REQUIRE(moved.fillers.size() == placed.fillers.size());
  for (std::size_t k = 0; k < moved.fillers.size(); ++k)
    if (k != held) CHECK(moved.fillers[k] == placed.fillers[k]);
  const TapePoint from = placed.fillers[held].placement.at;
  const TapePoint to = moved.fillers[held].placement.at;
  const double full = 40 / (scaleOf(before).px_per_mm * 25.4);
  const double right = to.from_left.value - from.from_left.value;
  constexpr double tape_mark = 0.0625;  // what is dragged lands on one
  CHECK(std::abs(right - full) < 0.51 * tape_mark + 0.01 * full);
  CHECK(std::abs(to.from_top.value - from.from_top.value - full / 2) < 0.51 * tape_mark + 0.01 * full);

  // It is still held: taken away, and back again by an undo.
  desk.screen.key("Delete");
  REQUIRE(comesTrue([&] { return std::filesystem::exists(desk.journal); }, 20));
  desk.save();
  CHECK(desk.saved().fillers.size() == placed.fillers.size() - 1);
  desk.screen.key("ctrl+z");
  REQUIRE(comesTrue([&] { return std::filesystem::exists(desk.journal); }, 20));
  desk.save();
  CHECK((desk.saved() == moved));

  // Opened again all hang where they were, and go on from there.
  desk.start({desk.plan.string()});
  const Scene after = sceneOf(desk);
  const auto next = static_cast<std::size_t>(after.blooms[freestFiller(after)].index);
  dragFreest(desk, -40, -20);
  desk.save();
  const Plan last = desk.saved();
  REQUIRE(last.fillers.size() == moved.fillers.size());
  for (std::size_t k = 0; k < last.fillers.size(); ++k)
    if (k != next) CHECK(last.fillers[k] == moved.fillers[k]);
  const double back =
      last.fillers[next].placement.at.from_left.value - moved.fillers[next].placement.at.from_left.value;
  CHECK(std::abs(back + full) < 0.51 * tape_mark + 0.01 * full);
}
