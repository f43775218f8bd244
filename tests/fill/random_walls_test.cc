// Random walls: each rule for fillers is kept, and what the check still finds is explained.

#include "engine/fill/fill.h"
#include "engine/hands/fill_plan.h"
#include "engine/scene/scene.h"

#include "tests/fill/random_plans.h"
#include "tests/fill/slow_rules.h"
#include "tests/support/pool.h"
#include "tests/support/sanitized.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <set>
#include <string>
#include <vector>

using namespace petalproof;
using namespace petalproof::hands;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::gaps;
using namespace petalproof::reading;
using namespace petalproof::check;
using namespace petalproof::fill;
using namespace petalproof::testing;

namespace {

// Ids of what still shows, by a check of its own.
std::set<std::string> stillNoticed(const LoadedPlan& filled) {
  const Result<Scene> scene = buildScene(filled);
  const Result<Check> check = runCheck(filled, *scene.value, testing::allThreads());
  std::set<std::string> ids;
  for (const ShotCheck& shot : check.value->shots)
    for (const Gap& gap : shot.found.gaps)
      if (readsOf(shot, gap) == Reads::shows) ids.insert(check::idOf(shot, gap));
  return ids;
}

struct Totals {
  int fillers = 0;
  int left = 0;
  int before = 0;
};

void fillOne(std::uint64_t seed, Totals& totals) {
  CAPTURE(seed);
  FillOptions options;
  options.walls = CleanWalls{0, 1};
  const LoadedPlan plan = randomPlan(seed);
  const Result<FillResult> result = fillPlan(plan, testing::allThreads(), options);
  REQUIRE(result);
  for (const std::string& broken : brokenRules(result.value->filled)) FAIL_CHECK(broken);
  std::set<std::string> explained;
  for (const LeftGap& gap : result.value->left) {
    CAPTURE(gap.id);
    CAPTURE(gap.why);
    explained.insert(gap.id);
    CHECK(gap.why.size() > 10);
    CHECK(gap.why.find("the search ended") == std::string::npos);
  }
  CHECK(explained == stillNoticed(result.value->filled));
  CHECK(result.value->at_least <= result.value->count);
  for (const PlacedFiller& one : result.value->fillers) {  // to the millimetre with a tape
    CHECK(std::abs(one.from_left_mm - std::round(one.from_left_mm)) < 1e-6);
    CHECK(std::abs(one.from_top_mm - std::round(one.from_top_mm)) < 1e-6);
  }
  totals.before += static_cast<int>(stillNoticed(plan).size());
  totals.fillers += result.value->count;
  totals.left += static_cast<int>(result.value->left.size());
}

void fillSome(std::uint64_t from, std::uint64_t to) {
  Totals totals;
  for (std::uint64_t seed = from; seed <= to; ++seed) fillOne(seed, totals);
  INFO(fmt::format("{} gaps, {} fillers, {} left", totals.before, totals.fillers, totals.left));
  // Or nothing of this is a test.
  CHECK(totals.fillers > static_cast<int>(to - from + 1));
  CHECK(totals.left < totals.before / 2);
}

// Two panels of 300 x 250 mm; a dahlia of 350 mm in the middle of the left one.
std::vector<std::string> brokenBy(const std::string& fillers) {
  const std::string text = R"(
format = 1
title = "Rules"
units = "mm"
variation = 0
[wall]
columns = 3
rows = 1
panel = [300, 250]
seam = 2
grid = [["sun", "none", ""]]
[[bloom]]
name = "great"
shape = "dahlia"
diameter = 350
colour = "#b5382a"
[[bloom]]
name = "bud"
shape = "pompom"
diameter = 100
colour = "#e8a23d"
filler = true
stock = 3
[[layout]]
name = "sun"
blooms = [{ bloom = "great", at = [150, 125] }]
[[layout]]
name = "none"
blooms = []
)" + fillers;
  const Result<LoadedPlan> plan = readPlan(text, "rules.toml", ".");
  for (const Problem& problem : plan.problems) FAIL(toString(problem));
  return brokenRules(*plan.value);
}

std::string bud(double left, double top, double raised = 0) {
  return fmt::format("[[filler]]\nbloom = \"bud\"\nat = [{}, {}]\nraised = {}\n", left, top, raised);
}

bool anyHas(const std::vector<std::string>& words, const std::string& part) {
  return std::any_of(words.begin(), words.end(),
                     [&](const std::string& one) { return one.find(part) != std::string::npos; });
}

}  // namespace

TEST_CASE("the slow reckoning finds each rule broken, and nothing where none is") {
  CHECK(brokenBy(bud(450, 125) + bud(301, 20)).empty());
  CHECK(
      anyHas(brokenBy(bud(450, 10)), "its plate isn't on board"));  // the plate, of 30 mm, past the top edge
  CHECK(anyHas(brokenBy(bud(595, 125)), "its plate isn't on board"));  // past the last panel
  CHECK(anyHas(brokenBy(bud(450, 125) + bud(475, 125)), "its plate meets that of filler"));
  CHECK(anyHas(brokenBy(bud(210, 125)), "its plate meets that of bloom great"));
  CHECK(anyHas(brokenBy(bud(450, 10)), "hangs too far past a side or the top"));  // by 40 of 100 mm
  CHECK_FALSE(anyHas(brokenBy(bud(450, 240)), "hangs too far"));                  // at the bottom as far does
  CHECK(anyHas(brokenBy(bud(260, 125, 200)), "into the inner half of bloom great"));
  CHECK(anyHas(brokenBy(bud(280, 125, 200) + bud(20, 125, 200)), "of its face"));
  CHECK(anyHas(brokenBy(bud(350, 50) + bud(400, 50) + bud(450, 50) + bud(500, 50)), "4 of bud are used, 3"));
}

TEST_CASE("random walls: the rules are kept, and the proof holds or what is left is explained") {
  fillSome(21, 20 + fewerIfSanitized(std::uint64_t{6}));
}

TEST_CASE("the same on many" * doctest::skip(std::getenv("PETALPROOF_LONG_TESTS") == nullptr)) {
  fillSome(101, 160);
}
