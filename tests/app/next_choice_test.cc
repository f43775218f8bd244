// Choosing without a mouse: the bloom or panel that lies that way.

#include "tests/app/test_plans.h"
#include "viewer/app/action.h"

#include <doctest/doctest.h>

using namespace petalproof;
using namespace petalproof::scene;
using namespace petalproof::app;

namespace {

// Three by three blooms, 10 in apart, on one panel; the scene as the session would have built it.
State nineBlooms() {
  std::string text = R"(format = 1
title = "Nine"
units = "in"
[wall]
columns = 2
rows = 1
panel = [40, 40]
grid = [["nine", ""]]
[[bloom]]
name = "bud"
shape = "bud"
diameter = 3
colour = "#aa4433"
[[layout]]
name = "nine"
blooms = [
)";
  for (int k = 0; k < 9; ++k)
    text += "  { bloom = \"bud\", at = [" + std::to_string(10 + 10 * (k % 3)) + ", " +
            std::to_string(10 + 10 * (k / 3)) + "] },\n";
  State state = opened({}, planFrom(text + "]\n"), "nine.toml");
  state.live.scene = std::make_shared<const Scene>(*buildScene(*state.now.plan).value);
  return state;
}

int chosen(const State& state) {
  REQUIRE(state.selection.blooms.size() == 1);
  return state.selection.blooms[0].index;
}

}  // namespace

TEST_CASE("arrows go from bloom to bloom: the nearest that way, none beyond the last") {
  State state = nineBlooms();
  // The wall's middle is at its right edge: the nearest is the last of the middle row.
  state = apply(state, StepToBloom{1, 0});
  CHECK(chosen(state) == 5);
  state = apply(state, StepToBloom{-1, 0});
  CHECK(chosen(state) == 4);
  state = apply(state, StepToBloom{0, -1});
  CHECK(chosen(state) == 1);
  state = apply(state, StepToBloom{0, -1});
  CHECK(chosen(state) == 1);
  state = apply(apply(state, StepToBloom{0, 1}), StepToBloom{0, 1});
  CHECK(chosen(state) == 7);
  state.live.scene.reset();
  CHECK(chosen(apply(state, StepToBloom{-1, 0})) == 7);
}

TEST_CASE("a bloom off the straight way is chosen where none lies on it, within 45 degrees") {
  State state = nineBlooms();
  Scene scene = *state.live.scene;
  const double inch = 25.4;
  scene.blooms[4].at_mm += glm::dvec2(0, 9 * inch);  // the middle one nearly up to the row above
  state.live.scene = std::make_shared<const Scene>(scene);
  state.selection.blooms = {{0, 0, 3}};
  CHECK(chosen(apply(state, StepToBloom{1, 0})) == 5);  // straight ahead, though farther
  scene.blooms[5].at_mm.y -= 40 * inch;
  scene.blooms[8].at_mm.y -= 40 * inch;
  scene.blooms[2].at_mm.y += 40 * inch;
  state.live.scene = std::make_shared<const Scene>(scene);
  CHECK(chosen(apply(state, StepToBloom{1, 0})) == 4);
}

TEST_CASE("panels are chosen from cell to cell, and stay on the wall") {
  State state = opened({}, smallPlan(), "small.toml");
  const auto cell = [](const State& s) {
    REQUIRE(s.selection.cells.size() == 1);
    return s.selection.cells[0];
  };
  state = apply(state, StepToPanel{1, 0});
  CHECK((cell(state) == CellRef{1, 1}));
  state = apply(state, StepToPanel{1, 0});
  CHECK((cell(state) == CellRef{1, 1}));
  state = apply(apply(state, StepToPanel{-1, 0}), StepToPanel{0, -1});
  CHECK((cell(state) == CellRef{0, 0}));
  CHECK(state.selection.blooms.empty());
  state.selection = {{{1, 0, 0}}, {}};
  CHECK((cell(apply(state, StepToPanel{-1, 0})) == CellRef{1, 0}));
}
