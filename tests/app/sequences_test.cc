// Whatever a hand does in whatever order: the plan can be saved at every moment, undoing all of it gives the
// first plan, doing all of it again the last.

#include "engine/plan/write_plan.h"
#include "tests/app/random_edits.h"
#include "tests/app/test_plans.h"
#include "viewer/app/action.h"

#include <doctest/doctest.h>

#include <cstdlib>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::app;

namespace {

bool canBeSaved(const LoadedPlan& plan) {
  const auto again = readPlan(writePlan(plan.plan), "saved.toml", plan.directory);
  return again && again.value->plan == plan.plan;
}

// Some edits in strokes of the hand, now and then a step back and forth.
State hand(State state, std::uint64_t seed, int steps, int& taken) {
  for (int step = 0; step < steps; ++step) {
    CAPTURE(seed);
    CAPTURE(step);
    const auto revision = state.now.revision;
    state = app::apply(state, handAction(state, seed, static_cast<std::uint64_t>(step)));
    taken += state.now.revision != revision ? 1 : 0;
    REQUIRE(canBeSaved(*state.now.plan));
  }
  return state;
}

void undoAndRedoAll(std::uint64_t seed, int steps) {
  CAPTURE(seed);
  int taken = 0;
  const State first = opened({}, demoPlan(), "demo.toml");
  State state = hand(first, seed, steps, taken);
  CHECK(taken > steps / 3);
  const Plan last = state.plan();
  while (!state.history.undone.empty()) state = apply(std::move(state), Redo{});
  const Plan farthest = state.plan();
  const std::size_t undoable = state.history.done.size();
  while (!state.history.done.empty()) state = apply(std::move(state), Undo{});
  CHECK((state.plan() == first.plan()));
  CHECK(state.now.revision == first.now.revision);
  CHECK(!state.changed());
  CHECK(state.history.undone.size() == undoable);
  while (!state.history.undone.empty()) state = apply(std::move(state), Redo{});
  CHECK((state.plan() == farthest));
  CHECK(!(last == first.plan()));
}

}  // namespace

TEST_CASE("undoing all gives the first plan, doing all again the last") {
  for (std::uint64_t seed = 0; seed < 4; ++seed) undoAndRedoAll(seed, 150);
}

TEST_CASE("the same over 1,000 steps" * doctest::skip(std::getenv("PETALPROOF_LONG_TESTS") == nullptr)) {
  for (std::uint64_t seed = 100; seed < 120; ++seed) undoAndRedoAll(seed, 1000);
}
