// What each kind of edit does, to the number, and what is refused.

#include "engine/scene/scene.h"
#include "tests/app/test_plans.h"
#include "viewer/app/action.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::app;

namespace {

struct Outcome {
  Plan plan;
  std::string name;
  std::string refused;
};

Outcome outcomeOf(const LoadedPlan& plan, const PlanEdit& edit) {
  const auto result = edited(plan, edit);
  if (!result) return {plan.plan, "", result.problems.front().message};
  return {result.value->plan.plan, result.value->name, ""};
}

Outcome onSmall(const PlanEdit& edit) { return outcomeOf(*smallPlan(), edit); }

const BloomRef ember_a1{0, 0, 0};
const BloomRef ember_b2{1, 1, 0};  // hangs upside down
const BloomRef bud_a1{0, 0, 1};
const BloomRef moss_b1{1, 0, 0};
const BloomRef filler{-1, -1, 0};

TapePoint at(double left, double top) { return {{left}, {top}}; }

}  // namespace

TEST_CASE("a bloom moves on its layout, the other way where it hangs upside down") {
  const Outcome upright = onSmall(MoveBlooms{{ember_a1}, at(1.5, -2)});
  CHECK(upright.name == "move ember on sun");
  CHECK(upright.plan.layouts[0].blooms[0].at == at(9.5, 7));
  const Outcome over = onSmall(MoveBlooms{{ember_b2}, at(1.5, -2)});
  CHECK(over.plan.layouts[0].blooms[0].at == at(6.5, 11));
  // Picked twice, in two cells of one layout: moved once.
  const Outcome twice = onSmall(MoveBlooms{{ember_a1, ember_b2}, at(1, 0)});
  CHECK(twice.plan.layouts[0].blooms[0].at == at(9, 9));
  const Outcome several = onSmall(MoveBlooms{{ember_a1, bud_a1, filler}, at(1, 1)});
  CHECK(several.name == "move 3 blooms");
  CHECK(several.plan.fillers[0].placement.at == at(31, 6));
  CHECK(onSmall(MoveBlooms{{filler}, at(1, 1)}).name == "move filler bud");
  CHECK(onSmall(MoveBlooms{{{0, 0, 7}}, at(1, 1)}).refused == "what was picked isn't there any more");
}

TEST_CASE("blooms turn, take a colour, another kind") {
  CHECK(onSmall(TurnBlooms{{moss_b1}, 25}).plan.layouts[1].blooms[0].turn_deg == 15);
  CHECK(onSmall(TurnBlooms{{bud_a1}, -45}).plan.layouts[0].blooms[1].turn_deg == 345);
  CHECK(onSmall(SetTurn{{moss_b1}, 90}).plan.layouts[1].blooms[0].turn_deg == 90);
  const Outcome coloured = onSmall(ColourBlooms{{bud_a1}, Colour{1, 2, 3}});
  CHECK((coloured.plan.layouts[0].blooms[1].colour == Colour{1, 2, 3}));
  CHECK(onSmall(ExchangeBlooms{{bud_a1}, "moss"}).plan.layouts[0].blooms[1].bloom == "moss");
  CHECK(onSmall(ExchangeBlooms{{bud_a1}, "mos"}).refused.find("did you mean \"moss\"?") != std::string::npos);
}

TEST_CASE("copies and what is added are picked then, what is deleted isn't") {
  State state = opened({}, smallPlan(), "small.toml");
  state = apply(std::move(state), Edit{CopyBlooms{{ember_b2, filler}, at(2, 1)}});
  REQUIRE(state.selection.blooms.size() == 2);
  CHECK((state.selection.blooms[0] == BloomRef{1, 1, 2}));
  CHECK((state.selection.blooms[1] == BloomRef{-1, -1, 1}));
  CHECK(placementOf(state.plan(), state.selection.blooms[0])->at == at(6, 8));
  CHECK(placementOf(state.plan(), state.selection.blooms[1])->at == at(32, 6));
  state = apply(std::move(state), Edit{AddBloom{{1, 1}, "moss", at(1, 2)}});
  CHECK(placementOf(state.plan(), state.selection.blooms[0])->at == at(23, 18));
  const std::size_t before = state.plan().layouts[0].blooms.size();
  state = apply(std::move(state), Edit{DeleteBlooms{{bud_a1, {-1, -1, 0}}}});
  CHECK(state.selection.empty());
  CHECK(state.plan().layouts[0].blooms.size() == before - 1);
  CHECK(state.plan().fillers.size() == 1);
  CHECK(onSmall(AddBloom{{0, 1}, "bud", at(1, 1)}).refused ==
        "no panel hangs at A2: give the cell a layout first");
}

TEST_CASE("kinds keep their names apart and their places") {
  Bloom bud = smallPlan()->plan.blooms[0];
  bud.name = "berry";
  const Outcome renamed = onSmall(SetKind{0, bud});
  CHECK(renamed.name == "change name of berry");
  CHECK(renamed.plan.layouts[0].blooms[1].bloom == "berry");
  CHECK(renamed.plan.fillers[0].placement.bloom == "berry");
  bud.name = "moss";
  CHECK(onSmall(SetKind{0, bud}).refused == "there is a bloom named \"moss\" already; names are unique");
  bud.name = "bud";
  bud.diameter = {5};
  CHECK(onSmall(SetKind{0, bud}).name == "change size of bud");
  bud.diameter = {0};
  CHECK(!onSmall(SetKind{0, bud}).refused.empty());
  CHECK(onSmall(DeleteKind{0}).refused ==
        "bud is used in 2 places; delete those, or exchange them for another kind");
}

TEST_CASE("a panel gets its own layout; cells swap, turn over, change") {
  const Outcome own = onSmall(OwnLayout{{1, 1}});
  CHECK(own.name == "give B2 its own layout");
  CHECK(own.plan.wall.grid.at(1, 1).layout == "sun B2");
  CHECK(own.plan.wall.grid.at(1, 1).upside_down);
  CHECK((own.plan.layouts.back().blooms == own.plan.layouts[0].blooms));
  CHECK(onSmall(OwnLayout{{1, 0}}).refused == "no other panel has the layout moon; B1 has it for itself");
  const Outcome swapped = onSmall(SwapCells{{0, 1}, {1, 1}});
  CHECK((swapped.plan.wall.grid.at(0, 1) == Cell{"sun", true}));
  CHECK(!swapped.plan.wall.grid.at(1, 1).hasPanel());
  CHECK(onSmall(TurnOver{{1, 1}}).name == "hang B2 right way up");
  CHECK(onSmall(SetCell{{0, 1}, {"mon", false}}).refused.find("did you mean \"moon\"?") != std::string::npos);
  CHECK(onSmall(DeleteLayout{0}).refused == "sun hangs in 2 cells; hang another layout there first");
}

TEST_CASE("the wall grows by its own pattern and keeps what hangs") {
  const Outcome wider = onSmall(ResizeWall{4, 3});
  CHECK((wider.plan.wall.grid.at(3, 0) == Cell{"moon", false}));
  CHECK((wider.plan.wall.grid.at(3, 1) == Cell{"sun", true}));
  CHECK((wider.plan.wall.grid.at(2, 2) == Cell{"sun", false}));
  CHECK(wider.plan.fillers.size() == 1);
  // The filler is on B1, which goes.
  CHECK(onSmall(ResizeWall{1, 2}).plan.fillers.empty());
  CHECK(onSmall(ResizeWall{0, 2}).refused == "a wall has 1 to 200 columns and 1 to 200 rows");
  const Outcome smaller = onSmall(ResizePanel{{{14}, {12}}});
  CHECK(smaller.plan.layouts[0].blooms[0].at == at(8, 9));
  CHECK(smaller.plan.layouts[0].blooms[1].at == at(14, 10));
  // 5.5 from the left of B1, which now begins at 14.5.
  CHECK(smaller.plan.fillers[0].placement.at == at(20, 5));
  SetWallDetails details{smallPlan()->plan.wall, "seam"};
  details.wall.seam = {1};
  CHECK(onSmall(details).plan.fillers[0].placement.at == at(30.5, 5));
}

TEST_CASE("shots: copied, deleted, refused where no camera can stand") {
  CHECK(onSmall(CopyShot{0}).plan.shots[1].name == "couple 2");
  CHECK(onSmall(DeleteShot{0}).refused == "a plan keeps at least one shot");
  SetShot behind{0, smallPlan()->plan.shots[0], "distance"};
  behind.to.camera_out = {-3};
  CHECK(!onSmall(behind).refused.empty());
  behind.to.camera_out = {120};
  CHECK(onSmall(behind).name == "change distance of couple");
  LoadedPlan without = *smallPlan();
  without.plan.shots.clear();
  CHECK(shotsOf(without.plan).size() == 5);
  CHECK(outcomeOf(without, DeleteShot{1}).plan.shots.size() == 4);
}

TEST_CASE("a shot that was just made is chosen") {
  State state = opened({}, smallPlan(), "small.toml");
  const Shot couple = state.plan().shots[0];
  state = apply(std::move(state), Edit{AddShot{couple}});
  CHECK(state.shot == 1);
  state = apply(std::move(state), Edit{CopyShot{0}});
  CHECK(state.shot == 1);
  CHECK(state.plan().shots[1].name == "couple 3");
  state = apply(std::move(state), Undo{});
  state = apply(std::move(state), Undo{});
  CHECK(state.shot == 0);
}

TEST_CASE("edits of one stroke are one step, made from where the stroke began") {
  State state = opened({}, smallPlan(), "small.toml");
  for (const double by : {1.0, 2.0, 3.0})
    state = apply(std::move(state), Edit{MoveBlooms{{ember_a1}, at(by, 0)}, 7});
  CHECK(state.history.done.size() == 1);
  CHECK(state.history.done[0].name == "move ember on sun");
  CHECK(state.plan().layouts[0].blooms[0].at == at(11, 9));
  state = apply(std::move(state), Edit{MoveBlooms{{ember_a1}, at(1, 0)}, 8});
  CHECK(state.history.done.size() == 2);
  state = apply(std::move(state), Undo{});
  CHECK(state.plan().layouts[0].blooms[0].at == at(11, 9));
  state = apply(std::move(state), Undo{});
  CHECK(!state.changed());
  state = apply(std::move(state), Redo{});
  CHECK(state.plan().layouts[0].blooms[0].at == at(11, 9));
  CHECK(state.changed());
  // Back to where it began within a stroke: no step is left.
  State still = opened({}, smallPlan(), "small.toml");
  still = apply(std::move(still), Edit{MoveBlooms{{ember_a1}, at(1, 0)}, 9});
  still = apply(std::move(still), Edit{MoveBlooms{{ember_a1}, at(0, 0)}, 9});
  CHECK(still.history.done.empty());
  CHECK(!still.changed());
}

TEST_CASE("a refused edit leaves the plan and says why") {
  State state = opened({}, smallPlan(), "small.toml");
  state = apply(std::move(state), Edit{DeleteShot{0}});
  CHECK(state.notice == "a plan keeps at least one shot");
  CHECK(!state.changed());
  state = apply(std::move(state), Edit{TurnOver{{0, 0}}});
  CHECK(state.notice.empty());
}

TEST_CASE("in another unit nothing moves, and every length is written anew") {
  const auto demo = demoPlan();
  LoadedPlan before = *demo;
  before.plan.shots[0].looked_at = LookedAt{"", {10}, {13}};
  before.plan.shots[0].focus = Length{150};
  const auto there = edited(before, SetUnits{Units::centimetre});
  REQUIRE(there);
  const Plan& plan = there.value->plan.plan;
  CHECK(there.value->name == "measure in centimetres");
  CHECK(plan.units == Units::centimetre);
  CHECK(plan.wall.panel.width.value == doctest::Approx(2.54 * before.plan.wall.panel.width.value));
  CHECK(plan.shots[0].looked_at->distance.value == doctest::Approx(33.02));
  CHECK(plan.shots[0].focus->value == doctest::Approx(381));
  CHECK(plan.shots[0].lens == before.plan.shots[0].lens);
  // As long as they were, to a thousandth of a millimetre, wherever a length stands.
  const auto was = buildScene(before);
  const auto is = buildScene(there.value->plan);
  REQUIRE(was);
  REQUIRE(is);
  REQUIRE(is.value->blooms.size() == was.value->blooms.size());
  for (std::size_t k = 0; k < is.value->blooms.size(); ++k) {
    const BloomInstance& a = was.value->blooms[k];
    const BloomInstance& b = is.value->blooms[k];
    CHECK(std::abs(a.at_mm.x - b.at_mm.x) < 0.003);
    CHECK(std::abs(a.at_mm.y - b.at_mm.y) < 0.003);
    CHECK(std::abs(a.diameter_mm - b.diameter_mm) < 0.001);
  }
  const auto back = edited(there.value->plan, SetUnits{Units::inch});
  REQUIRE(back);
  for (std::size_t k = 0; k < plan.shots.size(); ++k) {
    const Shot& a = before.plan.shots[k];
    const Shot& b = back.value->plan.plan.shots[k];
    CHECK(b.camera_out.value == doctest::Approx(a.camera_out.value).epsilon(1e-5));
    CHECK(b.people.size() == a.people.size());
    for (std::size_t j = 0; j < a.people.size(); ++j)
      CHECK(b.people[j].height.value == doctest::Approx(a.people[j].height.value).epsilon(1e-5));
  }
}
