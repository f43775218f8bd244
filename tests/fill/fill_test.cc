#include "engine/fill/fill.h"
#include "engine/hands/fill_plan.h"

#include "engine/base/stopping.h"
#include "engine/fill/why_left.h"
#include "tests/fill/bare_wall.h"
#include "tests/fill/random_plans.h"
#include "tests/support/pool.h"
#include "tests/support/sanitized.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

using namespace petalproof;
using namespace petalproof::hands;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::fill;
using petalproof::testing::barePanel;
using petalproof::testing::everything;
using petalproof::testing::smallRandomPlan;

namespace {

std::vector<std::string> placesOf(const FillResult& result) {
  std::vector<std::string> places;
  for (const PlacedFiller& one : result.fillers)
    places.push_back(fmt::format("{} {} {} {} {}", one.filler.placement.bloom, one.at.mm.x, one.at.mm.y,
                                 one.filler.placement.turn_deg, toHex(one.colour)));
  return places;
}

}  // namespace

TEST_CASE("a filled plan needs nothing more") {
  const FillOptions options = everything();
  const Result<FillResult> once = fillPlan(barePanel(300, 200, 170), testing::allThreads(), options);
  REQUIRE(once);
  CHECK(once.value->left.empty());
  CHECK(once.value->count >= 4);     // 300 x 200 mm are more than 2.6 discs
  CHECK(once.value->at_least >= 3);  // two opposite corners and one more, farther than 170 mm apart
  CHECK(once.value->at_least <= once.value->count);
  const Result<FillResult> again = fillPlan(once.value->filled, testing::allThreads(), options);
  REQUIRE(again);
  CHECK(again.value->count == 0);
  CHECK(again.value->filled.plan == once.value->filled.plan);
  CHECK(again.value->fillers.size() == once.value->fillers.size());
}

TEST_CASE("the share done never falls and ends with all") {
  FillOptions options;
  options.walls = CleanWalls{0, 1};
  std::vector<double> shares;
  std::string last;
  options.progress = [&](double done, const std::string& doing) {
    shares.push_back(done);
    last = doing;
  };
  REQUIRE(fillPlan(smallRandomPlan(35), testing::allThreads(),
                   options));  // which takes a second proof, over the same stretch
  REQUIRE(shares.size() > 10);
  CHECK(std::is_sorted(shares.begin(), shares.end()));
  CHECK(shares.front() < 0.1);
  CHECK(shares.back() == 1);
  CHECK(last == "done");
}

TEST_CASE("a filling that is asked to stop ends by throwing Stopped, whatever it is at") {
  const LoadedPlan plan = smallRandomPlan(35);
  for (const double share : {0.0, 0.31, 0.5, 0.72, 0.85}) {
    CAPTURE(share);
    std::stop_source source;
    bool asked = false;
    bool went_on = false;
    FillOptions options;
    options.stop = source.get_token();
    options.progress = [&](double done, const std::string&) {
      went_on = went_on || (asked && done >= 1);
      asked = asked || done >= share;
      if (asked) source.request_stop();
    };
    CHECK_THROWS_AS(fillPlan(plan, testing::allThreads(), options), Stopped);
    CHECK(asked);
    CHECK_FALSE(went_on);
  }
}

TEST_CASE("any number of threads finds the same fillers") {
  const FillOptions options = everything();
  const LoadedPlan plan = barePanel(300, 200, 170);
  const Result<FillResult> one = fillPlan(plan, Pool(1), options);
  REQUIRE(one);
  for (const int threads : {2, 7}) {
    const Result<FillResult> other = fillPlan(plan, Pool(threads), options);
    REQUIRE(other);
    CHECK(placesOf(*other.value) == placesOf(*one.value));
    CHECK(other.value->at_least == one.value->at_least);
  }
}

TEST_CASE("what can't be hidden is said") {
  LoadedPlan plan = barePanel(300, 200, 170);
  plan.plan.blooms[0].stock = 1;
  const Result<FillResult> result = fillPlan(plan, testing::allThreads(), everything());
  REQUIRE(result);
  CHECK(result.value->count == 1);
  REQUIRE(result.value->left.size() >= 1);
  // 300 x 200 mm need four such discs or more.
  const std::string why = result.value->left[0].why;
  const std::string start = "the stock of disc is used up: ";
  REQUIRE(why.rfind(start, 0) == 0);
  CHECK(std::stoi(why.substr(start.size())) >= 3);
  CHECK(std::stoi(why.substr(start.size())) <= 8);
  CHECK(why.substr(why.size() - 17) == " more would do it");
  plan.plan.blooms[0].filler = false;
  const Result<FillResult> none = fillPlan(plan, testing::allThreads(), everything());
  REQUIRE(none);
  CHECK(none.value->count == 0);
  REQUIRE(none.value->left.size() == 1);
  CHECK(none.value->left[0].why == "no bloom of the plan may be used as a filler (filler = true)");
}

TEST_CASE("where gaps stay for want of room, a leaf that takes more than its stalk's end is told of") {
  Plan plan = barePanel(300, 200, 170).plan;
  REQUIRE(plan.units == Units::millimetre);
  const std::vector<LeftGap> for_room{{"front.1", "no room", true}};
  CHECK(!noteOnLeafPlates(plan, for_room));
  Bloom leaf;
  leaf.name = "sprig";
  leaf.form = Shape::leafSpray;
  leaf.diameter = {250};
  leaf.filler = true;
  plan.blooms.push_back(leaf);
  CHECK(noteOnLeafPlates(plan, for_room).value_or("") ==
        "sprig is taken to stick by a disc of 75 mm, 0.3 of its length, since the plan doesn't say. If only "
        "the end of its stalk sticks, give it a plate of 25 mm: more of them find room then.");
  CHECK(!noteOnLeafPlates(plan, {{"front.1", "stock", false}}));
  plan.blooms.back().plate = Length{75};
  CHECK(!noteOnLeafPlates(plan, for_room));
}

TEST_CASE("walls by hands: fillers for builds that come out otherwise than planned") {
  FillOptions options = everything();
  options.walls.reset();  // 19 in 20, since the plan has [hands]
  LoadedPlan plan = barePanel(160, 120, 240);
  Hands hands;
  hands.place = {4};
  hands.hang = {1};
  hands.bloom_size = 0.01;
  plan.plan.hands = hands;

  SUBCASE("with room to spare one disc does for all") {
    // Half of the panel's diagonal is 100 mm, so a disc of 120 mm in the middle has 20 mm to spare: more than
    // three times what place, hang and size come to.
    const Result<FillResult> result = fillPlan(plan, testing::allThreads(), options);
    REQUIRE(result);
    CHECK(result.value->count == 1);
    REQUIRE(result.value->hands);
    CHECK(result.value->hands->builds == 200);
    CHECK(result.value->hands->clean >= 190);
    CHECK(result.value->hands->costs == 0);
    CHECK(result.value->hands->at_least < result.value->hands->clean / 200.0);
    CHECK(result.value->hands->at_least > 0.91);  // 190 of 200 promise 0.9166
  }
  SUBCASE("with hardly any the hands cost more discs, and the promise is kept by other builds") {
    plan = barePanel(160, 120, 206);
    plan.plan.hands = hands;
    const Result<FillResult> result = fillPlan(plan, testing::allThreads(), options);
    REQUIRE(result);
    REQUIRE(result.value->hands);
    CHECK(result.value->hands->costs >= 1);
    CHECK(result.value->count == 1 + result.value->hands->costs);
    CHECK(result.value->hands->clean >= 190);
    CHECK(result.value->left.empty());
    const Result<FillResult> again = fillPlan(result.value->filled, testing::allThreads(), options);
    REQUIRE(again);
    CHECK(again.value->count == 0);
    const Result<FillResult> other = fillPlan(plan, Pool(3), options);
    REQUIRE(other);
    CHECK(placesOf(*other.value) == placesOf(*result.value));
    CHECK(other.value->hands->clean == result.value->hands->clean);
  }
  SUBCASE("where the stock ends before enough walls are clean it is said so in words") {
    plan = barePanel(160, 120, 206);
    plan.plan.hands = hands;
    plan.plan.blooms[0].stock = 1;
    const Result<FillResult> result = fillPlan(plan, testing::allThreads(), options);
    REQUIRE(result);
    CHECK(result.value->count == 1);
    REQUIRE(result.value->hands);
    CHECK(result.value->hands->clean < 190);
    REQUIRE(result.value->notes.size() == 1);
    const std::string start = "19 walls in 20 were to be clean; they aren't, because the stock is used up: ";
    const std::string& note = result.value->notes[0];
    REQUIRE(note.rfind(start, 0) == 0);
    CHECK(std::stoi(note.substr(start.size())) >= 1);
    CHECK(note.find(" more of disc would hide more of what such hands leave bare") != std::string::npos);
  }
  SUBCASE("without [hands] nothing is said of them") {
    plan.plan.hands.reset();
    const Result<FillResult> result = fillPlan(plan, testing::allThreads(), options);
    REQUIRE(result);
    CHECK_FALSE(result.value->hands);
  }
  // Minutes under sanitizers, by the same code as above.
  if (testing::sanitized) return;
  SUBCASE("where hardly any wall can be clean, what seldom helps isn't added") {
    plan = barePanel(320, 240, 150);
    plan.plan.blooms[0].stock = 8;
    hands.place = {60};
    plan.plan.hands = hands;
    options.walls = CleanWalls{0, 1};
    const Result<FillResult> perfect = fillPlan(plan, testing::allThreads(), options);
    options.walls.reset();
    const Result<FillResult> result = fillPlan(plan, testing::allThreads(), options);
    REQUIRE(perfect);
    REQUIRE(perfect.value->left.empty());
    REQUIRE(result);
    REQUIRE(result.value->hands);
    CHECK(result.value->hands->clean < 10);
    CHECK(result.value->hands->gaps_each >= 1);
    CHECK(result.value->hands->costs == result.value->count - perfect.value->count);
    REQUIRE(result.value->notes.size() == 1);
    const std::string start = "19 walls in 20 were to be clean; with such hands hardly any is without ";
    const std::string& note = result.value->notes[0];
    REQUIRE(note.rfind(start, 0) == 0);
    CHECK(std::stoi(note.substr(start.size())) >= 8);
  }
}
