#include "engine/plan/write_plan.h"

#include "engine/plan/read_plan.h"
#include "tests/plan/generated_plan.h"
#include "tests/support/texts.h"

#include <doctest/doctest.h>

#include <cstdint>
#include <string>

using namespace petalproof;
using namespace petalproof::plan;
using petalproof::testing::problemsOf;

namespace {}  // namespace

TEST_CASE("a saved plan loads to an equal plan") {
  for (std::uint64_t seed = 0; seed < 1000; ++seed) {
    CAPTURE(seed);
    const Plan plan = generatedPlan(seed);
    const std::string text = writePlan(plan);
    const auto loaded = readPlan(text, "saved.toml", {});
    INFO(problemsOf(loaded));
    INFO(text);
    REQUIRE(loaded);
    REQUIRE((loaded.value->plan == plan));
    REQUIRE(writePlan(loaded.value->plan) == text);
  }
}

TEST_CASE("a plan is written in its order, without what is usual anyway") {
  Plan plan;
  plan.title = "A \"small\" wall\n";
  plan.units = Units::centimetre;
  plan.wall.columns = 2;
  plan.wall.rows = 1;
  plan.wall.panel = {{60}, {50.1}};
  plan.wall.seam = {0.15875};
  plan.wall.board.thickness = {0.47625};
  plan.wall.grid = Grid<Cell>(2, 1);
  plan.wall.grid.at(0, 0) = {"sun", true};
  Bloom bloom;
  bloom.name = "ember";
  bloom.diameter = {0.1};
  bloom.colours = {{0xb5, 0x38, 0x2a}};
  plan.blooms = {bloom};
  plan.layouts = {{"sun", {{"ember", {{12}, {-1e-3}}, 15, {}, {}}}}};
  CHECK(writePlan(plan) == R"(format = 1
title = "A \"small\" wall\n"
units = "cm"

[wall]
columns = 2
rows = 1
panel = [60, 50.1]
grid = [
  ["sun upside down", ""],
]

[[bloom]]
name = "ember"
shape = "dahlia"
diameter = 0.1
colour = "#b5382a"

[[layout]]
name = "sun"
blooms = [
  { bloom = "ember", at = [12, -0.001], turn = 15 },
]
)");
}

TEST_CASE("numbers are written in their shortest form") {
  Plan plan = generatedPlan(3);
  plan.variation = 0.1;
  plan.seed = 9'223'372'036'854'775'807ULL;
  const std::string text = writePlan(plan);
  CHECK(text.find("variation = 0.1\n") != std::string::npos);
  CHECK(text.find("seed = 9223372036854775807\n") != std::string::npos);
}
