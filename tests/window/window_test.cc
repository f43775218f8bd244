// The real window under Xvfb: what a hand does there is what the saved plan says.

#include "engine/plan/read_plan.h"
#include "engine/plan/write_plan.h"
#include "engine/scene/scene.h"
#include "tests/app/scratch_folder.h"
#include "tests/app/test_plans.h"
#include "tests/window/desk.h"
#include "tests/window/hand.h"

#include <doctest/doctest.h>

#include <cmath>
#include <memory>
#include <string>
#include <vector>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::window_test;
namespace fs = std::filesystem;

namespace {

constexpr const char* demo_name = "Copper Evening.toml";

// One that is in front, near the middle of the wall.
void dragBloom(Desk& desk) {
  REQUIRE(comesTrue([&] {
    desk.screen.drag(500, 360, 526, 347);
    return comesTrue([&] { return fs::exists(desk.journal); }, patience_s);
  }));
}

struct Moved {
  int count = 0;
  double right = 0;
  double down = 0;
};

Moved movedBetween(const Plan& before, const Plan& after) {
  Moved moved;
  REQUIRE(before.layouts.size() == after.layouts.size());
  for (std::size_t k = 0; k < before.layouts.size(); ++k) {
    REQUIRE(before.layouts[k].blooms.size() == after.layouts[k].blooms.size());
    for (std::size_t j = 0; j < before.layouts[k].blooms.size(); ++j) {
      const Placement& one = before.layouts[k].blooms[j];
      const Placement& other = after.layouts[k].blooms[j];
      if (one == other) continue;
      ++moved.count;
      moved.right = other.at.from_left.value - one.at.from_left.value;
      moved.down = other.at.from_top.value - one.at.from_top.value;
    }
  }
  return moved;
}

// The demo but for its meshes' paths, which lead from another folder.
Plan withMeshesOf(Plan plan, const Plan& other) {
  for (std::size_t k = 0; k < plan.blooms.size(); ++k)
    if (std::holds_alternative<MeshFile>(plan.blooms[k].form)) plan.blooms[k].form = other.blooms[k].form;
  return plan;
}

void openDemoAndSave(Desk& desk) {
  desk.start();
  REQUIRE(desk.clickUntil(100, 285,
                          [&] { return fs::exists(desk.state / "petalproof/journals/.unsaved.journal"); }));
  REQUIRE(desk.saveWhereProposed());
}

}  // namespace

TEST_CASE("open the demo, drag a bloom, undo, add a shot, save: the plan on disk is what was done") {
  Desk desk(demo_name);
  openDemoAndSave(desk);
  const Plan demo = app::demoPlan()->plan;
  const Plan first = desk.saved();
  CHECK((withMeshesOf(demo, first) == first));

  dragBloom(desk);
  desk.save();
  const Moved moved = movedBetween(first, desk.saved());
  CHECK(moved.count == 1);
  // As the hand went, whichever way the panel hangs: 26 pixels across and 13 up, of about 6.5 an inch, to the
  // sixteenth of an inch that a tape shows.
  CHECK(std::abs(moved.right) == doctest::Approx(4).epsilon(0.05));
  CHECK(std::abs(moved.right / 2 + moved.down) < 0.05);
  CHECK(std::remainder(moved.right, 0.0625) == doctest::Approx(0));
  CHECK(std::remainder(moved.down, 0.0625) == doctest::Approx(0));

  desk.screen.key("ctrl+z");
  REQUIRE(comesTrue([&] { return fs::exists(desk.journal); }, 20));
  desk.save();
  CHECK((desk.saved() == first));

  REQUIRE(comesTrue([&] {
    desk.screen.click(1056, 308);  // the page of the shot
    desk.screen.click(1012, 396);  // a new one
    return comesTrue([&] { return fs::exists(desk.journal); }, patience_s);
  }));
  desk.save();
  const Plan last = desk.saved();
  REQUIRE(last.shots.size() == first.shots.size() + 1);
  CHECK(last.shots.back().name == "couple 2");
  CHECK(last.layouts == first.layouts);
  CHECK(desk.program->runs());
}

TEST_CASE("by keys alone: a bloom is picked, moved, turned, another one taken off; a panel is swapped") {
  Desk desk("Small.toml");
  app::write(desk.plan, writePlan(app::smallPlan()->plan));
  const Plan first = desk.saved();
  desk.start({desk.plan.string()});
  const auto untilSaved = [&](const std::vector<const char*>& keys, const auto& condition) {
    return comesTrue([&] {
      for (const char* key : keys) desk.screen.key(key);
      if (comesTrue([&] { return fs::exists(desk.journal); }, patience_s)) desk.save();
      return condition(desk.saved());
    });
  };
  desk.screen.key("Right");  // picks
  CHECK(untilSaved({"Right"}, [&](const Plan& now) {
    const Moved moved = movedBetween(first, now);
    return moved.count == 1 && moved.right != 0 && std::abs(moved.down) < 1e-9;
  }));
  const double turn = first.layouts[0].blooms[1].turn_deg;
  CHECK(untilSaved({"r"}, [&](const Plan& now) { return now.layouts[0].blooms[1].turn_deg > turn; }));
  CHECK(
      untilSaved({"ctrl+Left", "Delete"}, [](const Plan& now) { return now.layouts[0].blooms.size() == 1; }));
  // From B2 to the left, and back with what hangs there.
  CHECK(untilSaved({"Escape", "alt+Up", "alt+Left", "alt+shift+Right"},
                   [&](const Plan& now) { return now.wall.grid.cells() != first.wall.grid.cells(); }));
}

TEST_CASE("killed with work that isn't saved, the next start offers it") {
  Desk desk(demo_name);
  openDemoAndSave(desk);
  const Plan first = desk.saved();
  dragBloom(desk);
  desk.program->kill();
  CHECK((desk.saved() == first));
  desk.start({desk.plan.string()});
  // "Take it up", left in the question in the middle.
  REQUIRE(
      desk.clickUntil(537, 469, [&] { return fs::exists(desk.home / ".Copper Evening.toml.2.journal"); }));
  REQUIRE(comesTrue([&] {
    desk.screen.key("ctrl+s");
    return comesTrue([&] { return !fs::exists(desk.home / ".Copper Evening.toml.2.journal"); }, 4);
  }));
  CHECK(movedBetween(first, desk.saved()).count == 1);
  CHECK(!fs::exists(desk.journal));
}
