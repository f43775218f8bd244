// What `at_least` says of filled walls.

#include "engine/fill/fill.h"
#include "engine/hands/fill_plan.h"

#include "tests/fill/bare_wall.h"
#include "tests/fill/random_plans.h"
#include "tests/support/pool.h"
#include "tests/support/sanitized.h"

#include <doctest/doctest.h>

#include <cstdint>
#include <utility>
#include <vector>

using namespace petalproof;
using namespace petalproof::hands;
using namespace petalproof::plan;
using namespace petalproof::reading;
using namespace petalproof::fill;
using petalproof::testing::barePanel;
using petalproof::testing::everything;
using petalproof::testing::fewerIfSanitized;
using petalproof::testing::holeWithTail;
using petalproof::testing::smallRandomPlan;

namespace {

FillResult filled(const LoadedPlan& plan, FillOptions options = {}) {
  options.walls = CleanWalls{0, 1};
  Result<FillResult> result = fillPlan(plan, testing::allThreads(), options);
  REQUIRE(result);
  return std::move(*result.value);
}

}  // namespace

// One disc hides the hole. The rules for fillers keep others from the slit, which is bare in the end and, by
// itself, lost in so small a picture.
TEST_CASE("at_least doesn't count what the search gave up and nobody notices in the end") {
  LoadedPlan plan = holeWithTail(1.6, {0xea, 0xea, 0xea});
  plan.plan.shots[0].looked_at = LookedAt{"", {25}, {600}};
  const FillResult result = filled(plan);
  REQUIRE(result.before.shots[0].readings.size() == 1);
  CHECK(result.before.shots[0].readings[0].reads == Reads::shows);
  REQUIRE(result.after.shots[0].readings.size() == 1);
  CHECK(result.after.shots[0].readings[0].reads == Reads::lost);
  CHECK(result.left.empty());
  CHECK(result.count == 1);
  CHECK(result.at_least == 1);
}

// What some seed finds hides all that reads, too: so the least is no more than any seed's count.
TEST_CASE("at_least is no more than any search needs that leaves nothing to read") {
  int counted = 0;
  for (std::uint64_t wall = 1; wall <= fewerIfSanitized(std::uint64_t{3}); ++wall) {
    CAPTURE(wall);
    const LoadedPlan plan = smallRandomPlan(wall);
    std::vector<FillResult> results;
    for (const std::uint64_t seed : {1, 2}) {
      FillOptions options;
      options.seed = seed;
      results.push_back(filled(plan, options));
    }
    for (const FillResult& of : results) {
      CHECK(of.at_least <= of.count);
      counted += of.at_least;
      for (const FillResult& other : results)
        if (of.left.empty() && other.left.empty()) CHECK(of.at_least <= other.count);
    }
  }
  CHECK(counted > 4);  // or nothing of this is a test
}

TEST_CASE("at_least is the least where that is known") {
  // Half of the diagonal is 100 mm: a disc of 210 mm hides all. Of 156 mm it takes two: halves have 72 mm.
  CHECK(filled(barePanel(160, 120, 210), everything()).at_least == 1);
  CHECK(filled(barePanel(160, 120, 156), everything()).at_least == 2);
  // No disc of 124 mm hides two corners; four discs of 114 mm or more hide the quarters.
  CHECK(filled(barePanel(160, 160, 124), everything()).at_least == 4);
}
