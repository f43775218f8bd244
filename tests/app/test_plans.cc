#include "tests/app/test_plans.h"

#include <doctest/doctest.h>

namespace petalproof::app {

std::shared_ptr<const plan::LoadedPlan> demoPlan() {
  auto loaded = plan::loadPlan(std::filesystem::path(PETALPROOF_SOURCE_DIR) / "assets/plans/demo.toml");
  REQUIRE(loaded);
  return std::make_shared<const plan::LoadedPlan>(std::move(*loaded.value));
}

std::shared_ptr<const plan::LoadedPlan> planFrom(const std::string& text) {
  auto loaded = plan::readPlan(text, "test.toml", {});
  REQUIRE(loaded);
  return std::make_shared<const plan::LoadedPlan>(std::move(*loaded.value));
}

std::shared_ptr<const plan::LoadedPlan> smallPlan() {
  return planFrom(R"(format = 1
title = "Small"
units = "in"
[wall]
columns = 2
rows = 2
panel = [24, 20]
seam = 0.5
grid = [["sun", "moon"], ["", "sun upside down"]]
[[bloom]]
name = "bud"
shape = "bud"
diameter = 4
colour = "#b4532f"
filler = true
[[bloom]]
name = "ember"
shape = "dahlia"
diameter = 12
colour = ["#c2663d", "#b4532f"]
[[bloom]]
name = "moss"
shape = "fern"
diameter = 10
colour = "#4f6a46"
[[layout]]
name = "sun"
blooms = [ { bloom = "ember", at = [8, 9] }, { bloom = "bud", at = [16, 10], turn = 30 } ]
[[layout]]
name = "moon"
blooms = [ { bloom = "moss", at = [12, 10], turn = 350 } ]
[[filler]]
bloom = "bud"
at = [30, 5]
[[shot]]
name = "couple"
sensor = "full frame"
lens = 50
camera = [0, 30, 100]
aim = [0, 20]
)");
}

}  // namespace petalproof::app
