// The check beside the hand: newest first, nothing old in full, the same as the check of the command line.

#include "engine/scene/scene_keeper.h"
#include "tests/app/scratch_folder.h"
#include "tests/app/test_plans.h"
#include "tests/support/pool.h"
#include "viewer/app/live_checker.h"
#include "viewer/app/session.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <atomic>
#include <thread>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::gaps;
using namespace petalproof::reading;
using namespace petalproof::check;
using namespace petalproof::app;
using namespace std::chrono_literals;

namespace {

// Small pictures: this is about which check is made, not about what it finds.
std::shared_ptr<const LoadedPlan> twoShots() {
  LoadedPlan plan = *smallPlan();
  plan.plan.shots[0].megapixels = 0.05;
  plan.plan.shots.push_back(plan.plan.shots[0]);
  plan.plan.shots[1].name = "from the side";
  plan.plan.shots[1].camera_right = {40};
  return std::make_shared<const LoadedPlan>(std::move(plan));
}

LiveTask taskOf(const std::shared_ptr<const LoadedPlan>& plan, std::uint64_t revision) {
  auto scene = SceneKeeper().build(*plan);
  REQUIRE(scene);
  return {plan, std::make_shared<const Scene>(std::move(*scene.value)), revision, {1, 0}, {1, 0}};
}

std::vector<LiveNews> waitFor(LiveChecker& checker) {
  std::vector<LiveNews> all;
  do {
    std::this_thread::sleep_for(2ms);
    for (LiveNews& news : checker.take()) all.push_back(std::move(news));
  } while (checker.busy());
  for (LiveNews& news : checker.take()) all.push_back(std::move(news));
  return all;
}

}  // namespace

TEST_CASE("a gap that was chosen is the same place in another check, or nowhere") {
  const auto check = [](std::vector<std::pair<int, glm::dvec2>> places) {
    ShotCheck made;
    for (const auto& [column, centre] : places) {
      Gap& gap = made.found.holes.emplace_back().whole;
      gap.number = static_cast<int>(made.found.holes.size());
      gap.owner = {GapKind::board, column, 0, false};
      gap.centre_mm = centre;
      gap.length_mm = 80;
    }
    return made;
  };
  const ShotCheck before = check({{0, {10, 10}}, {0, {100, 10}}, {1, {300, 10}}});
  const ShotCheck after = check({{1, {101, 11}}, {0, {139, 10}}, {0, {102, 12}}, {1, {200, 10}}});
  CHECK(sameGapIn(after, {2, 2}, before) == GapRef{2, 3});
  CHECK(!sameGapIn(after, {2, 1}, before));  // 92 mm away
  CHECK(!sameGapIn(after, {2, 3}, before));
  CHECK(!sameGapIn(after, {2, 4}, before));
  CHECK(!sameGapIn(after, {2, 0}, before));
}

TEST_CASE("previews and full checks come in the order wanted; the full ones equal the main one") {
  const auto plan = twoShots();
  std::atomic<int> woken = 0;
  LiveOptions options;
  options.rest = 20ms;
  options.wake = [&] { ++woken; };
  LiveChecker checker(options);
  checker.ask(taskOf(plan, 5));
  auto news = waitFor(checker);
  REQUIRE(news.size() == 4);
  CHECK(woken >= 4);
  CHECK_FALSE(news.front().result.full);
  std::stable_partition(news.begin(), news.end(), [](const LiveNews& one) { return !one.result.full; });
  const int order[] = {1, 0, 1, 0};
  for (std::size_t k = 0; k < 4; ++k) {
    CHECK(news[k].shot == order[k]);
    CHECK(news[k].result.full == (k >= 2));
    CHECK(news[k].result.revision == 5);
    REQUIRE(news[k].result.check);
  }
  const auto scene = buildScene(*plan);
  const auto check = runCheck(*plan, *scene.value, testing::allThreads());
  REQUIRE(check);
  for (std::size_t k = 2; k < 4; ++k) {
    const ShotCheck& mine = *news[k].result.check;
    const ShotCheck& theirs = check.value->shots[static_cast<std::size_t>(order[k])];
    REQUIRE(mine.readings.size() == theirs.readings.size());
    CHECK(mine.readings.size() > 0);
    for (std::size_t gap = 0; gap < mine.readings.size(); ++gap)
      CHECK(mine.readings[gap].difference == theirs.readings[gap].difference);
  }
  CHECK(checker.progress() == 1);
}

TEST_CASE("of many plans in a row the last one is checked in full, no other") {
  const auto plan = twoShots();
  LiveOptions options;
  options.rest = 60ms;
  LiveChecker checker(options);
  LiveTask task = taskOf(plan, 0);
  std::vector<LiveNews> all;
  for (std::uint64_t revision = 1; revision <= 25; ++revision) {
    task.revision = revision;
    checker.ask(task);
    std::this_thread::sleep_for(3ms);
  }
  for (const LiveNews& news : waitFor(checker)) {
    if (news.result.full) CHECK(news.result.revision == 25);
    all.push_back(news);
  }
  std::uint64_t before = 0;
  int full = 0;
  for (const LiveNews& news : all) {
    if (!news.result.full) CHECK(news.result.revision >= before);
    before = news.result.full ? before : news.result.revision;
    full += news.result.full ? 1 : 0;
  }
  CHECK(before == 25);
  CHECK(full == 2);
}

TEST_CASE("a checker that goes leaves what it is at") {
  const auto plan = demoPlan();
  LiveOptions options;
  options.rest = 1ms;
  auto checker = std::make_unique<LiveChecker>(options);
  checker->ask(taskOf(plan, 1));
  std::this_thread::sleep_for(30ms);
  checker.reset();
}

TEST_CASE(
    "a shot that changes leaves what is known of the others, a wall that changes leaves nothing current") {
  const auto before = twoShots();
  std::vector<ShotResult> known(2);
  for (ShotResult& result : known) result = {7, true, std::make_shared<const ShotCheck>(), nullptr, {}};
  LoadedPlan shot = *before;
  shot.plan.shots[1].lens.mm = 85;
  auto after = resultsAfter({before, 7}, known, {std::make_shared<const LoadedPlan>(shot), 8});
  REQUIRE(after.size() == 2);
  CHECK(after[0].revision == 8);
  CHECK(after[1].revision == 7);
  CHECK(after[1].check);
  LoadedPlan wall = *before;
  wall.plan.wall.board.colour = {1, 2, 3};
  after = resultsAfter({before, 7}, known, {std::make_shared<const LoadedPlan>(wall), 8});
  CHECK(after[0].revision == 7);
  LoadedPlan fewer = *before;
  fewer.plan.shots.erase(fewer.plan.shots.begin());
  after = resultsAfter({before, 7}, known, {std::make_shared<const LoadedPlan>(fewer), 8});
  REQUIRE(after.size() == 1);
  CHECK(after[0].revision == 8);
}

TEST_CASE("gaps are listed worst first; the next one after the last is the first") {
  Session session({});
  LoadedPlan plan = *twoShots();
  // A row of blooms parts the bare board on either side of it.
  std::vector<Placement>& blooms = plan.plan.layouts[0].blooms;
  const Placement ember = blooms.front();
  for (const double down : {0.0, 5.0, 10.0, 15.0, 20.0}) {
    blooms.push_back(ember);
    blooms.back().at = {Length{12}, Length{down}};
  }
  session.perform(StartWith{std::make_shared<const LoadedPlan>(plan)});
  const auto known = [&] {
    session.poll();
    const auto& shots = session.state().live.shots;
    return std::all_of(shots.begin(), shots.end(), [](const ShotResult& shot) { return shot.full; });
  };
  while (!known()) std::this_thread::sleep_for(5ms);
  CHECK(isCurrent(session.state(), 0));
  CHECK(session.state().live.bare);
  CHECK(session.state().live.bare->bare_mm2() > 1000);
  const ScratchFolder folder;
  session.perform(WritePictures{});
  CHECK(session.state().notice == "save the plan first: the pictures go beside it");
  session.perform(SaveAs{folder.path() / "small.toml", false});
  session.perform(WritePictures{});
  REQUIRE(session.state().drawing);
  while (session.state().drawing) {
    std::this_thread::sleep_for(5ms);
    session.poll();
  }
  CHECK(session.state().notice == "3 pictures are in " + (folder.path() / "small pictures").string());
  for (const char* name : {"1-couple.png", "2-from-the-side.png", "wall-map.png"})
    CHECK(textIn(folder.path() / "small pictures" / name).starts_with("\x89PNG"));
  ViewChoices all = session.state().view;
  all.lost = true;
  session.perform(SetView{all});
  const auto listed = listedGaps(session.state(), 0);
  REQUIRE(listed.size() > 1);
  for (std::size_t k = 1; k < listed.size(); ++k)
    CHECK(static_cast<int>(readingOf(session.state(), listed[k - 1])->reads) >=
          static_cast<int>(readingOf(session.state(), listed[k])->reads));
  session.perform(StepThroughGaps{1});
  CHECK((session.state().gap == listed.front()));
  session.perform(StepThroughGaps{-1});
  CHECK((session.state().gap == listed.back()));
  session.perform(StepThroughGaps{1});
  CHECK((session.state().gap == listed.front()));
}
