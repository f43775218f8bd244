#include "engine/filler/fill.h"

#include "engine/plan/read_plan.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

using namespace petalproof;

namespace {

// A flat disc of 64 corners; a plan's OBJ is fitted to its diameter.
std::filesystem::path folderWithDisc() {
  const auto folder = std::filesystem::temp_directory_path() / "petalproof_fill_test";
  std::filesystem::create_directories(folder);
  std::ofstream disc(folder / "disc.obj");
  constexpr int corners = 64;
  for (int k = 0; k < corners; ++k)
    disc << fmt::format("v {:.6f} {:.6f} 0\n", std::cos(2 * pi * k / corners),
                        std::sin(2 * pi * k / corners));
  disc << "f";
  for (int k = 0; k < corners; ++k) disc << ' ' << k + 1;
  disc << '\n';
  return folder;
}

// One bare panel before a camera far off; discs hardly before the board.
LoadedPlan barePanel(double width_mm, double height_mm, double diameter_mm, const std::string& more = "") {
  const std::string text = fmt::format(R"(
format = 1
title = "Bare"
units = "mm"
variation = 0
[wall]
columns = 1
rows = 1
panel = [{0}, {1}]
grid = [["bare"]]
[[bloom]]
name = "disc"
mesh = "disc.obj"
diameter = {2}
depth = 0.1
plate = 6
colour = "#c98a2b"
filler = true
[[layout]]
name = "bare"
blooms = []
{3}
[[shot]]
name = "front"
sensor = "full frame"
megapixels = 1
lens = 50
camera = [0, {4}, {5}]
aim = [0, {4}]
)",
                                       width_mm, height_mm, diameter_mm, more, height_mm / 2,
                                       2 * std::max(width_mm, 1.6 * height_mm));
  Result<LoadedPlan> loaded = readPlan(text, "bare.toml", folderWithDisc());
  for (const Problem& problem : loaded.problems) FAIL(toString(problem));
  return *loaded.value;
}

FillOptions everything() {
  FillOptions options;
  options.hide = Hide::all;
  options.readings = false;
  options.walls = CleanWalls{0, 1};
  return options;
}

std::vector<std::string> placesOf(const FillResult& result) {
  std::vector<std::string> places;
  for (const PlacedFiller& one : result.fillers)
    places.push_back(fmt::format("{} {} {} {} {}", one.filler.placement.bloom, one.at.mm.x, one.at.mm.y,
                                 one.filler.placement.turn_deg, toHex(one.colour)));
  return places;
}

}  // namespace

TEST_CASE("a bare square takes about as few discs as the best coverings known") {
  // Radii of the best coverings of the unit square: T. Tarnai, Z. Gaspar, "Covering a square by equal
  // circles", Elemente der Mathematik 50, 1995; value from memory of K. J. Nurmela, P. R. J. Ostergard, 2000.
  const double radii[] = {0.70710678, 0.55901699, 0.50389111, 0.35355339, 0.32616058};
  constexpr double side = 400;
  for (const int n : {1, 2, 3, 4, 5}) {
    CAPTURE(n);
    const Result<FillResult> result =
        fillPlan(barePanel(side, side, 2 * 1.04 * side * radii[n - 1]), everything());
    REQUIRE(result);
    CHECK(result.value->left.empty());
    CHECK(result.value->after.bare.bare_mm2() == 0);
    CHECK(result.value->count <= n + 1);
    CHECK(result.value->at_least <= n);
  }
}

TEST_CASE("a filled plan needs nothing more") {
  const FillOptions options = everything();
  const Result<FillResult> once = fillPlan(barePanel(300, 200, 170), options);
  REQUIRE(once);
  CHECK(once.value->left.empty());
  CHECK(once.value->count >= 4);     // 300 x 200 mm are more than 2.6 discs
  CHECK(once.value->at_least >= 3);  // two opposite corners and one more, farther than 170 mm apart
  CHECK(once.value->at_least <= once.value->count);
  const Result<FillResult> again = fillPlan(once.value->filled, options);
  REQUIRE(again);
  CHECK(again.value->count == 0);
  CHECK(again.value->filled.plan == once.value->filled.plan);
  CHECK(again.value->fillers.size() == once.value->fillers.size());
}

TEST_CASE("any number of threads finds the same fillers") {
  FillOptions options = everything();
  options.threads = 1;
  const LoadedPlan plan = barePanel(300, 200, 170);
  const Result<FillResult> one = fillPlan(plan, options);
  REQUIRE(one);
  for (const int threads : {2, 7}) {
    options.threads = threads;
    const Result<FillResult> other = fillPlan(plan, options);
    REQUIRE(other);
    CHECK(placesOf(*other.value) == placesOf(*one.value));
  }
}

TEST_CASE("what can't be hidden is said") {
  LoadedPlan plan = barePanel(300, 200, 170);
  plan.plan.blooms[0].stock = 1;
  const Result<FillResult> result = fillPlan(plan, everything());
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
  const Result<FillResult> none = fillPlan(plan, everything());
  REQUIRE(none);
  CHECK(none.value->count == 0);
  REQUIRE(none.value->left.size() == 1);
  CHECK(none.value->left[0].why == "no bloom of the plan may be used as a filler (filler = true)");
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
    const Result<FillResult> result = fillPlan(plan, options);
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
    const Result<FillResult> result = fillPlan(plan, options);
    REQUIRE(result);
    REQUIRE(result.value->hands);
    CHECK(result.value->hands->costs >= 1);
    CHECK(result.value->count == 1 + result.value->hands->costs);
    CHECK(result.value->hands->clean >= 190);
    CHECK(result.value->left.empty());
  }
  SUBCASE("without [hands] nothing is said of them") {
    plan.plan.hands.reset();
    const Result<FillResult> result = fillPlan(plan, options);
    REQUIRE(result);
    CHECK_FALSE(result.value->hands);
  }
}
