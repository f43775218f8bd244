#include "engine/reading/oddity.h"

#include "tests/support/pick.h"
#include "tests/support/pool.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

using namespace petalproof;
using namespace petalproof::reading;
using petalproof::testing::pick;

namespace {

PatchLooks looksOf(double area, double difference, const glm::vec3& colour, glm::dvec2 centre = {5, 5}) {
  PatchLooks looks;
  looks.area_arcmin2 = area;
  looks.length_arcmin = 2 * std::sqrt(area);
  looks.difference = difference;
  looks.colour = colour;
  looks.variation = 5;
  looks.centre_deg = centre;
  return looks;
}

// A wall in two colours.
std::vector<PatchLooks> twoColours(std::mt19937_64& random, std::size_t count) {
  std::vector<PatchLooks> pieces;
  for (std::size_t k = 0; k < count; ++k) {
    const bool red = k % 2 == 0;
    glm::vec3 colour = red ? glm::vec3(45, 45, 30) : glm::vec3(60, -10, 25);
    colour += glm::vec3(pick(random, -8, 8), pick(random, -5, 5), pick(random, -5, 5));
    PatchLooks piece = looksOf(std::exp(pick(random, 2.5, 8)), pick(random, 2, 60), colour,
                               {pick(random, 0, 30), pick(random, 0, 20)});
    piece.variation = pick(random, 2, 12);
    pieces.push_back(piece);
  }
  return pieces;
}

}  // namespace

TEST_CASE("what looks like a piece isn't odd, what looks like none is") {
  std::mt19937_64 random(5);
  const std::vector<PatchLooks> pieces = twoColours(random, 300);
  const Oddity oddity(pieces, testing::allThreads());
  REQUIRE(oddity.says());
  // Between two colours lies neither: a mean and a covariance of both would find grey the most usual of all.
  CHECK(oddity.odderThan(looksOf(400, 50, {52, 17, 27})) > 0.8);
  CHECK(oddity.odderThan(looksOf(400, 50, {85, 0, 5})) > 0.99);
  CHECK(oddity.odderThan(looksOf(100, 20, {45, 45, 30})) < 0.5);
  CHECK(oddity.odderThan(looksOf(100, 20, {60, -10, 25})) < 0.5);
}

TEST_CASE("at most a tenth of the pieces is odder than nine tenths of the others") {
  for (std::uint64_t seed = 1; seed <= 10; ++seed) {
    CAPTURE(seed);
    std::mt19937_64 random(seed);
    const std::vector<PatchLooks> pieces = twoColours(random, 200);
    const Oddity oddity(pieces, testing::allThreads());
    int odd = 0;
    for (std::size_t k = 0; k < pieces.size(); ++k) odd += oddity.odderThanOthers(k) > 0.9 ? 1 : 0;
    CHECK(odd <= 20);
    CHECK(odd >= 18);  // no two pieces are equally odd
  }
}

TEST_CASE("larger pieces that differ as much excuse a hole, smaller ones don't") {
  std::vector<PatchLooks> pieces;
  for (int k = 0; k < 60; ++k) pieces.push_back(looksOf(100 + k, 20 + 0.1 * k, {50, 20, 20}));
  const Oddity oddity(pieces, testing::allThreads());
  CHECK(oddity.odderThan(looksOf(20, 10, {50, 20, 20})) == 0);
  CHECK(oddity.odderThan(looksOf(400, 10, {50, 20, 20})) == 1);
  CHECK(oddity.odderThan(looksOf(20, 60, {50, 20, 20})) == 1);
}

TEST_CASE("what looks shorter than a degree stands out less, in proportion; longer, no more for that") {
  std::mt19937_64 random(4);
  const Oddity oddity(twoColours(random, 400), testing::allThreads());
  const auto violet = [](double length) {
    PatchLooks looks = looksOf(30, 20, {40, 20, -10});
    looks.length_arcmin = length;
    looks.area_arcmin2 = length * length / 4;  // of one shape, and no larger than the largest pieces
    return looks;
  };
  double before = 0;
  for (const double length : {1.0, 10.0, 20.0, 30.0, 45.0, 60.0}) {
    const double odder = oddity.odderThan(violet(length));
    CHECK(odder >= before);
    before = odder;
  }
  CHECK(oddity.odderThan(violet(1)) == 0);
  CHECK(oddity.odderThan(violet(60)) > 0.9);
  CHECK(oddity.odderThan(violet(90)) == doctest::Approx(oddity.odderThan(violet(60))).epsilon(0.02));
}

TEST_CASE("pieces nearby count more") {
  std::mt19937_64 random(9);
  std::vector<PatchLooks> pieces;
  for (int k = 0; k < 200; ++k) {
    const bool left = k % 2 == 0;
    glm::vec3 colour = left ? glm::vec3(80, 0, 10) : glm::vec3(40, 40, 30);
    colour += glm::vec3(pick(random, -3, 3), pick(random, -3, 3), pick(random, -3, 3));
    pieces.push_back(looksOf(pick(random, 900, 5000), pick(random, 10, 40), colour,
                             {left ? pick(random, 0, 8) : pick(random, 30, 38), pick(random, 0, 20)}));
  }
  const Oddity oddity(pieces, testing::allThreads());
  const PatchLooks white_among_white = looksOf(1000, 20, {80, 0, 10}, {4, 10});
  const PatchLooks white_among_red = looksOf(1000, 20, {80, 0, 10}, {34, 10});
  CHECK(oddity.odderThan(white_among_red) > oddity.odderThan(white_among_white) + 0.2);
  // Where the pieces are of other pictures their places mean nothing.
  const Oddity anywhere(pieces, testing::allThreads(), PieceOrigin::elsewhere);
  CHECK(anywhere.odderThan(white_among_red) == anywhere.odderThan(white_among_white));
}

TEST_CASE("it depends neither on the order of the pieces nor on the number of threads") {
  std::mt19937_64 random(3);
  std::vector<PatchLooks> pieces = twoColours(random, 150);
  const PatchLooks hole = looksOf(300, 40, {60, 10, 20});
  const double once = Oddity(pieces, Pool(1)).odderThan(hole);
  CHECK(Oddity(pieces, Pool(7)).odderThan(hole) == once);
  std::shuffle(pieces.begin(), pieces.end(), random);
  CHECK(std::abs(Oddity(pieces, testing::allThreads()).odderThan(hole) - once) <= 1.0 / 150);
}

TEST_CASE("too few pieces say nothing, and equal ones no nonsense") {
  CHECK_FALSE(Oddity().says());
  CHECK_FALSE(Oddity(std::vector<PatchLooks>(5, looksOf(50, 10, {50, 0, 0})), testing::allThreads()).says());
  const Oddity equal(std::vector<PatchLooks>(20, looksOf(50, 10, {50, 0, 0})), testing::allThreads());
  CHECK(equal.says());
  CHECK(equal.odderThan(looksOf(50, 10, {50, 0, 0})) == 0);
  CHECK(equal.odderThan(looksOf(50, 10, {80, 0, 0})) == 1);
}
