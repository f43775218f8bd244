// Work beside the hand ends within a second of being asked to, whatever it is at: or a closed window would
// stay.

#include "engine/scene/scene_keeper.h"
#include "tests/app/test_plans.h"
#include "tests/support/sanitized.h"
#include "viewer/app/live_checker.h"
#include "viewer/app/long_work.h"

#include <doctest/doctest.h>

#include <chrono>
#include <ctime>
#include <functional>
#include <memory>
#include <thread>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::fill;
using namespace petalproof::app;

namespace {

constexpr int threads = 2;

// Of this process, all its threads: a busy machine takes no share in it.
double cpuSeconds() {
  timespec now{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

std::shared_ptr<const Scene> sceneOf(const LoadedPlan& plan) {
  auto scene = SceneKeeper().build(plan);
  REQUIRE(scene);
  return std::make_shared<const Scene>(std::move(*scene.value));
}

// Starts work, ends it after so much processor time, and says how much more that took. `start` returns what
// ends it when destroyed.
double timeToEnd(double after_s, const std::function<std::shared_ptr<void>()>& start) {
  const double begun = cpuSeconds();
  std::shared_ptr<void> work = start();
  // Work that is done takes none.
  const auto latest = std::chrono::steady_clock::now() + std::chrono::seconds(120);
  while (cpuSeconds() < begun + after_s && std::chrono::steady_clock::now() < latest)
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  const double asked = cpuSeconds();
  work.reset();
  return cpuSeconds() - asked;
}

void checkEndsSoon(const std::function<std::shared_ptr<void>()>& start) {
  for (const double after_s : {0.05, 0.4, 0.9, 1.6, 2.5, 4.0}) {
    CAPTURE(after_s);
    CHECK(timeToEnd(after_s, start) < (petalproof::testing::sanitized ? 10.0 : 1.0) * threads);
  }
}

}  // namespace

TEST_CASE("checks beside the hand end within a second") {
  const auto plan = demoPlan();
  const auto scene = sceneOf(*plan);
  checkEndsSoon([&] {
    LiveOptions options;
    options.threads = threads;
    options.rest = std::chrono::milliseconds(0);
    auto checker = std::make_shared<LiveChecker>(options);
    checker->ask({plan, scene, 1, {0, 1, 2, 3, 4}, {0, 1, 2, 3, 4}});
    return checker;
  });
}

TEST_CASE("fillers and advice end within a second") {
  const Pool pool(threads);
  const auto plan = demoPlan();
  const auto scene = sceneOf(*plan);
  checkEndsSoon(
      [&]() -> std::shared_ptr<void> { return std::shared_ptr<FillJob>(startFilling(plan, {}, pool, {})); });
  checkEndsSoon([&]() -> std::shared_ptr<void> {
    return std::shared_ptr<AdviceJob>(startAdvising(plan, scene, "couple", pool, {}));
  });
}
