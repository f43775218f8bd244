#include "engine/report/internal/spots.h"

#include "engine/report/internal/outline_distance.h"
#include "tests/report/made_up.h"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <chrono>
#include <random>
#include <set>

namespace petalproof {
namespace {

const gaps::Owner somewhere{gaps::GapKind::board, 0, 0, false};

gaps::GapsOfShot found(std::vector<gaps::Gap> gaps) {
  gaps::GapsOfShot shot;
  shot.gaps = std::move(gaps);
  made_up::addHoles(shot);
  return shot;
}

std::vector<int> numbersOf(const report::Spot& spot, const gaps::GapsOfShot& gaps) {
  std::vector<int> numbers;
  for (const int k : spot.holes) numbers.push_back(gaps.holes[static_cast<std::size_t>(k)].whole.number);
  return numbers;
}

TEST_CASE("gaps nearer than 3 in stand together, under the widest") {
  // Squares of 10, 20 and 10 mm on a line; 76 mm and 77 mm between their outlines.
  const gaps::GapsOfShot gaps =
      found({made_up::gap(1, somewhere, {0, 0}, 10, 10), made_up::gap(2, somewhere, {5 + 76 + 10, 0}, 20, 20),
             made_up::gap(3, somewhere, {5 + 76 + 20 + 77 + 5, 0}, 10, 10)});
  const report::Spots spots = report::spotsOf(gaps);
  REQUIRE(spots.spots.size() == 2);
  CHECK(spots.spots[0].number == 2);
  CHECK(numbersOf(spots.spots[0], gaps) == std::vector<int>{2, 1});
  CHECK(numbersOf(spots.spots[1], gaps) == std::vector<int>{3});
  CHECK(spots.slivers == 0);
}

TEST_CASE("exactly 3 in apart is not nearer than 3 in") {
  const gaps::GapsOfShot gaps =
      found({made_up::gap(1, somewhere, {0, 0}, 10, 10), made_up::gap(2, somewhere, {10 + 76.2, 0}, 10, 10)});
  CHECK(report::spotsOf(gaps).spots.size() == 2);
}

TEST_CASE("a chain of gaps is not one spot: each must be near the spot's worst") {
  std::vector<gaps::Gap> chain;
  for (int k = 0; k < 5; ++k) chain.push_back(made_up::gap(k + 1, somewhere, {60.0 * k, 0}, 10, 10));
  chain[2].width_mm = 11;
  chain[2].area_mm2 = 110;
  const gaps::GapsOfShot gaps = found(chain);
  const report::Spots spots = report::spotsOf(gaps);
  REQUIRE(spots.spots.size() == 3);
  CHECK(numbersOf(spots.spots[0], gaps) == std::vector<int>{3, 2, 4});
  CHECK(numbersOf(spots.spots[1], gaps) == std::vector<int>{1});
  CHECK(numbersOf(spots.spots[2], gaps) == std::vector<int>{5});
}

TEST_CASE("worst first: by width, then area, then number") {
  std::vector<gaps::Gap> apart;
  for (int k = 0; k < 4; ++k) apart.push_back(made_up::gap(k + 1, somewhere, {500.0 * k, 0}, 10, 10));
  apart[1].width_mm = 12;
  apart[3].area_mm2 = 200;
  const report::Spots spots = report::spotsOf(found(apart));
  REQUIRE(spots.spots.size() == 4);
  CHECK(spots.spots[0].number == 2);
  CHECK(spots.spots[1].number == 4);
  CHECK(spots.spots[2].number == 1);
  CHECK(spots.spots[3].number == 3);
}

TEST_CASE("holes under 1/8 in wide are only counted, but for long seams") {
  const report::Spots spots = report::spotsOf(
      found({made_up::gap(1, somewhere, {0, 0}, 50, 3.174), made_up::gap(2, somewhere, {500, 0}, 50, 3.175),
             made_up::gap(3, somewhere, {900, 0}, 77, 1)}));
  CHECK(spots.slivers == 1);
  REQUIRE(spots.spots.size() == 2);
  CHECK(spots.spots[0].number == 2);
  CHECK(spots.spots[1].number == 3);
}

TEST_CASE(
    "what shows goes first, then what stands out most times how large it looks; the largest gives its name") {
  std::vector<gaps::Gap> apart;
  for (int k = 0; k < 3; ++k) apart.push_back(made_up::gap(k + 1, somewhere, {500.0 * k, 0}, 10, 10));
  apart.push_back(made_up::gap(4, somewhere, {1020, 0}, 30, 20));  // beside the third
  const gaps::GapsOfShot shot = found(apart);
  const std::vector<reading::Reading> readings{made_up::reading(reading::Reads::faint, 0.99, 20, 5000),
                                               made_up::reading(reading::Reads::shows, 0.91, 20, 400),
                                               made_up::reading(reading::Reads::shows, 0.99, 20, 390),
                                               made_up::reading(reading::Reads::shows, 0.92, 20, 300)};
  const report::Spots spots = report::spotsOf(shot, readings);
  REQUIRE(spots.spots.size() == 3);
  CHECK(numbersOf(spots.spots[0], shot) == std::vector<int>{4, 3});  // 0.99 x 390 leads
  CHECK(numbersOf(spots.spots[1], shot) == std::vector<int>{2});
  CHECK(numbersOf(spots.spots[2], shot) == std::vector<int>{1});
  CHECK(spots.spots[0].number == 4);
}

TEST_CASE("a gap in the hole of another stands with it") {
  const gaps::GapsOfShot gaps =
      found({made_up::gap(1, somewhere, {0, 0}, 1000, 1000), made_up::gap(2, somewhere, {0, 0}, 10, 10)});
  CHECK(report::spotsOf(gaps).spots.size() == 1);
}

TEST_CASE("nearness of outlines in closed form") {
  const auto square = [](glm::dvec2 c) { return made_up::gap(1, somewhere, c, 10, 10).outline_mm; };
  CHECK(report::nearerThan(5.01, square({0, 0}), square({15, 0})));
  CHECK_FALSE(report::nearerThan(5.0, square({0, 0}), square({15, 0})));
  // Corner to corner: 3-4-5.
  CHECK(report::nearerThan(5.01, square({0, 0}), square({13, 14})));
  CHECK_FALSE(report::nearerThan(5.0, square({0, 0}), square({13, 14})));
  // A cross of two lines.
  const std::vector<glm::dvec2> across{{-10, 0}, {10, 0}};
  const std::vector<glm::dvec2> down{{0, -10}, {0, 10}};
  CHECK(report::nearerThan(0.001, across, down));
  // A corner near the middle of an edge.
  const std::vector<glm::dvec2> point{{0, 7}};
  CHECK(report::nearerThan(7.01, across, point));
  CHECK_FALSE(report::nearerThan(7.0, across, point));
}

// Every pair tried, distances by dense points along the outlines' edges (exact for axis-parallel squares).
report::Spots slowSpots(const gaps::GapsOfShot& gaps, double square_mm) {
  std::vector<int> order;
  for (std::size_t k = 0; k < gaps.gaps.size(); ++k) order.push_back(static_cast<int>(k));
  const auto at = [&](int k) -> const gaps::Gap& { return gaps.gaps[static_cast<std::size_t>(k)]; };
  std::stable_sort(order.begin(), order.end(), [&](int a, int b) { return at(a).width_mm > at(b).width_mm; });
  std::set<int> taken;
  report::Spots spots;
  for (const int lead : order) {
    if (!taken.insert(lead).second) continue;
    report::Spot spot{{lead}, at(lead).number};
    for (const int k : order) {
      const glm::dvec2 apart =
          glm::max(glm::abs(at(k).centre_mm - at(lead).centre_mm) - square_mm, glm::dvec2(0, 0));
      if (glm::length(apart) < report::spot_reach_mm && taken.insert(k).second) spot.holes.push_back(k);
    }
    spots.spots.push_back(spot);
  }
  return spots;
}

TEST_CASE("spots of random squares are those that trying every pair finds") {
  for (unsigned seed = 0; seed < 30; ++seed) {
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> place(0, 1500);
    std::vector<gaps::Gap> gaps;
    for (int k = 0; k < 120; ++k) {
      gaps.push_back(made_up::gap(k + 1, somewhere, {place(random), place(random)}, 8, 8));
      gaps.back().width_mm = 4 + std::uniform_real_distribution<double>(0, 4)(random);
      gaps.back().area_mm2 = 8 * gaps.back().width_mm;
    }
    const gaps::GapsOfShot shot = found(gaps);
    const report::Spots fast = report::spotsOf(shot);
    const report::Spots slow = slowSpots(shot, 8);
    REQUIRE(fast.spots.size() == slow.spots.size());
    for (std::size_t k = 0; k < slow.spots.size(); ++k) {
      CHECK(fast.spots[k].number == slow.spots[k].number);
      CHECK(fast.spots[k].holes == slow.spots[k].holes);
    }
  }
}

TEST_CASE("ten thousand gaps are put together at once") {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> across(0, 20000);
  std::uniform_real_distribution<double> down(0, 3000);
  std::vector<gaps::Gap> gaps;
  for (int k = 0; k < 10000; ++k) {
    gaps.push_back(made_up::gap(k + 1, somewhere, {across(random), down(random)}, 30, 9));
  }
  const gaps::GapsOfShot shot = found(gaps);
  const auto start = std::chrono::steady_clock::now();
  const report::Spots spots = report::spotsOf(shot);
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
  std::size_t together = 0;
  for (const report::Spot& spot : spots.spots) together += spot.holes.size();
  CHECK(together == gaps.size());
  CHECK(took.count() < 5);  // a tenth of a second in a release build; trying every pair takes minutes
}

}  // namespace
}  // namespace petalproof
