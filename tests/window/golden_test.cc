// How the screens look, compared with pictures of them that were looked at.

#include "tests/window/golden.h"
#include "engine/plan/write_plan.h"
#include "tests/app/test_plans.h"
#include "tests/window/desk.h"

#include <doctest/doctest.h>

#include <chrono>
#include <thread>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::window_test;

namespace {

constexpr int smaller_by = 5;

// The screen once nothing moves on it any more: all is drawn finely, and checked.
Image restingPicture(const Desk& desk) {
  Image last = desk.screen.picture();
  int same = 0;
  const bool rests = comesTrue(
      [&] {
        std::this_thread::sleep_for(std::chrono::seconds(1));
        Image now = desk.screen.picture();
        same = now.rgb == last.rgb ? same + 1 : 0;
        last = std::move(now);
        return same >= 5;
      },
      120);
  CHECK(rests);
  return shrunk(last, smaller_by);
}

}  // namespace

TEST_CASE("the screens look as they did") {
  Desk desk("Small.toml");
  Plan plan = app::smallPlan()->plan;
  plan.shots[0].megapixels = 0.5;
  plan.shots[0].people = {{{66}, {-8}, {30}}, {{70}, {8}, {30}}};
  app::write(desk.plan, writePlan(plan));
  desk.start({desk.plan.string()});
  desk.screen.move(screen_width - 2, screen_height - 2);
  checkGolden(restingPicture(desk), "wall-drawing");
  desk.screen.key("F3");
  checkGolden(restingPicture(desk), "walk-around");
  desk.screen.key("F4");
  checkGolden(restingPicture(desk), "through-the-lens");
  desk.screen.key("F1");
  checkGolden(restingPicture(desk), "help");
}

TEST_CASE("pictures are told apart") {
  Image grey{20, 10, std::vector<std::uint8_t>(600, 100)};
  Image other = grey;
  CHECK(differenceOf(grey, other).mean == 0);
  // A square of 5 by 5 in white is 25 of 200 pixels.
  for (int y = 0; y < 5; ++y)
    for (int x = 0; x < 15; ++x) other.rgb[static_cast<std::size_t>(60 * y + x)] = 255;
  CHECK(differenceOf(grey, other).share == doctest::Approx(0.125));
  CHECK(differenceOf(grey, other).mean == doctest::Approx(155 * 0.125));
  CHECK(shrunk(other, 5).rgb[0] == 255);
  CHECK(shrunk(other, 5).rgb[3] == 100);
  CHECK(shrunk(other, 5).rgb.size() == 24);
  CHECK(differenceOf(grey, Image{}).share == 1);
}
