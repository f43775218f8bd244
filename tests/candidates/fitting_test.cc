#include "engine/candidates/fitting.h"
#include "engine/candidates/internal/shifting.h"

#include "engine/base/hash.h"
#include "engine/candidates/silhouette.h"
#include "engine/plan/read_plan.h"

#include <doctest/doctest.h>

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::candidates;

namespace {

double unit(std::uint64_t seed, std::uint64_t k) { return unitFromHash(hashOf({seed, k})); }

// Of all circles through two or three of the points that hold all of them the smallest.
double smallestByTrying(const std::vector<glm::dvec2>& p) {
  double best = 1e9;
  const auto offer = [&](glm::dvec2 centre) {
    double most = 0;
    for (const glm::dvec2& q : p) most = std::max(most, glm::distance(centre, q));
    best = std::min(best, most);
  };
  for (std::size_t i = 0; i < p.size(); ++i)
    for (std::size_t j = 0; j < i; ++j) {
      offer((p[i] + p[j]) / 2.0);
      for (std::size_t k = 0; k < j; ++k) {
        const glm::dvec2 u = p[j] - p[i];
        const glm::dvec2 v = p[k] - p[i];
        const double area = 2 * (u.x * v.y - u.y * v.x);
        if (std::abs(area) < 1e-9) continue;
        offer(p[i] + glm::dvec2(v.y * glm::dot(u, u) - u.y * glm::dot(v, v),
                                u.x * glm::dot(v, v) - v.x * glm::dot(u, u)) /
                         area);
      }
    }
  return best;
}

// A leaf of 200 x 60 mm and a round bud of 100 mm.
FillerMaker leafAndBud() {
  const std::string text = R"(
format = 1
title = "Fits"
units = "mm"
variation = 0
[wall]
columns = 1
rows = 1
panel = [900, 900]
grid = [["bare"]]
[[bloom]]
name = "leaf"
shape = "leaf"
diameter = 200
width = 60
colour = "#7f9470"
filler = true
[[bloom]]
name = "bud"
shape = "bud"
diameter = 100
colour = "#b4532f"
filler = true
[[layout]]
name = "bare"
blooms = []
)";
  const Result<LoadedPlan> loaded = readPlan(text, "fits.toml", ".");
  REQUIRE(loaded);
  Result<FillerMaker> maker = FillerMaker::forPlan(*loaded.value);
  REQUIRE(maker);
  return *maker.value;
}

}  // namespace

TEST_CASE("the smallest circle is the smallest of all that hold the points") {
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    std::vector<glm::dvec2> points;
    const std::uint64_t count = 2 + seed % 11;
    for (std::uint64_t k = 0; k < count; ++k)
      points.emplace_back(1000 * unit(seed, 2 * k), 1000 * unit(seed, 2 * k + 1));
    const EnclosingCircle circle = smallestCircle(points);
    CHECK(circle.radius == doctest::Approx(smallestByTrying(points)).epsilon(1e-9));
    for (const glm::dvec2& p : points) CHECK(glm::distance(p, circle.centre) <= circle.radius + 1e-6);
  }
  CHECK(smallestCircle({}).radius == 0);
  const std::vector<glm::dvec2> on_a_line{{0, 0}, {10, 0}, {4, 0}, {7, 0}};
  CHECK(smallestCircle(on_a_line).radius == doctest::Approx(5));
}

TEST_CASE("a filler is put where it holds all places, turned along them if it is a leaf") {
  const FillerMaker maker = leafAndBud();
  // Along a line that points up and to the right at 40 degrees from upright, 170 mm long.
  const double turn = 40 * pi / 180;
  std::vector<glm::dvec2> places;
  for (const double far : {-85.0, -40.0, 0.0, 30.0, 85.0})
    places.push_back(glm::dvec2(300, 400) + far * glm::dvec2(std::sin(turn), std::cos(turn)));
  const auto leaf = fitting(maker, 0, places);
  REQUIRE(leaf);
  CHECK(leaf->turn_deg == 40);
  CHECK(glm::distance(leaf->board_mm, glm::dvec2(300, 400)) < 1e-6);
  CHECK_FALSE(fitting(maker, 1, places));
  CHECK(fittings(maker, places).size() == 1);
  // Four corners of 60 x 60 mm fit the disc, whose radius is 50, and no leaf 60 mm wide.
  const std::vector<glm::dvec2> square{{0, 0}, {60, 0}, {0, 60}, {60, 60}};
  CHECK_FALSE(fitting(maker, 0, square));
  const auto bud = fitting(maker, 1, square);
  REQUIRE(bud);
  CHECK(glm::distance(bud->board_mm, glm::dvec2(30, 30)) < 1e-9);
  // Two such squares 300 mm apart take one each.
  std::vector<glm::dvec2> both = square;
  for (const glm::dvec2& p : square) both.push_back(p + glm::dvec2(300, 0));
  const std::vector<Proposal> pair = fittingPairs(maker, both);
  for (const double x : {30.0, 330.0})
    CHECK(std::any_of(pair.begin(), pair.end(), [&](const Proposal& one) {
      return glm::distance(one.board_mm, glm::dvec2(x, 30)) < 1e-9;
    }));
  // And three of them can't be shared by two.
  for (const glm::dvec2& p : square) both.push_back(p + glm::dvec2(600, 0));
  CHECK(fittingPairs(maker, both).empty());
}

TEST_CASE("discs are shifted until together they hide a square, as far as they can") {
  const FillerMaker maker = leafAndBud();
  const auto square = [](double side) {
    std::vector<glm::dvec2> places;
    for (int x = 0; x <= 20; ++x)
      for (int y = 0; y <= 20; ++y) places.emplace_back(300 + side * x / 20, 300 + side * y / 20);
    return places;
  };
  // Four discs of radius 50 hide a square of up to 100 times the root of 2.
  std::vector<Proposal> buds;
  for (const auto& at : {glm::dvec2(320, 330), {400, 310}, {330, 420}, {410, 405}})
    buds.push_back({1, at, 0, 0});
  const std::vector<glm::dvec2> places = square(138);
  const auto shifted = shiftedTogether(maker, buds, places, 0);
  REQUIRE(shifted);
  REQUIRE(shifted->size() == 4);
  for (const glm::dvec2& place : places)
    CHECK(std::any_of(shifted->begin(), shifted->end(),
                      [&](const Proposal& one) { return glm::distance(one.board_mm, place) <= 50 + 1e-6; }));
  CHECK_FALSE(shiftedTogether(maker, buds, square(145), 0));
  CHECK_FALSE(shiftedTogether(maker, buds, places, 3));  // with 3 mm to spare they come to 133 mm
  // A leaf lies along a row that no bud is long enough for.
  std::vector<glm::dvec2> row;
  for (int k = 0; k <= 18; ++k) row.emplace_back(300 + 10 * k, 300 + 2 * k);
  const auto leaf = shiftedTogether(maker, {{0, {380, 330}, 80, 0}}, row, 0);
  REQUIRE(leaf);
  CHECK(std::abs(leaf->front().turn_deg - 79) <= 8);
  CHECK_FALSE(shiftedTogether(maker, {{1, {380, 330}, 0, 0}}, row, 0));
}
