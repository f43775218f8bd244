// What is known of coverings by equal discs, against fillers that are such discs.

#include "engine/fill/fill.h"
#include "engine/hands/fill_plan.h"

#include "tests/fill/bare_wall.h"
#include "tests/support/pool.h"

#include <doctest/doctest.h>

#include <cmath>
#include <cstdlib>
#include <vector>

using namespace petalproof;
using namespace petalproof::hands;
using namespace petalproof::plan;
using namespace petalproof::fill;
using petalproof::testing::barePanel;
using petalproof::testing::bareSeam;
using petalproof::testing::everything;

namespace {

bool longTests() { return std::getenv("PETALPROOF_LONG_TESTS") != nullptr; }

FillResult covering(const LoadedPlan& plan) {
  Result<FillResult> result = fillPlan(plan, testing::allThreads(), everything());
  REQUIRE(result);
  CHECK(result.value->left.empty());
  CHECK(result.value->after.bare.bare_mm2() == 0);
  return std::move(*result.value);
}

// Radii of the best coverings of the unit square by n equal circles: K. J. Nurmela, P. R. J. Ostergard,
// "Covering a square with up to 30 equal circles", Helsinki University of Technology, Report A62, 2000;
// values from memory, all found again by an optimiser of our own to 1e-9 (n = 5 also read: T. Tarnai,
// Z. Gaspar, "Covering a square by equal circles", Elemente der Mathematik 50, 1995).
constexpr double best_radii[] = {0.70710678118655, 0.55901699437495, 0.50389110926866, 0.35355339059327,
                                 0.32616058400399, 0.29872706223691, 0.27429188517743, 0.26030010588652,
                                 0.23063692781954, 0.21823351279308};

// Discs 4 % larger than the best n would need.
void coverSquare(int n, double side) {
  CAPTURE(n);
  CAPTURE(side);
  const FillResult result = covering(barePanel(side, side, 2 * 1.04 * side * best_radii[n - 1]));
  CHECK(result.count <= n + (n <= 5 ? 1 : 2));
  CHECK(result.at_least <= n);
}

// Area of the discs over that of a square of so many diameters.
double densityOn(double diameters) {
  constexpr double diameter = 60;
  const double side = diameters * diameter;
  const FillResult result = covering(barePanel(side, side, diameter));
  return result.count * pi / 4 * diameter * diameter / (side * side);
}

// The thinnest covering of the plane: R. Kershner, "The number of circles covering a set", American Journal
// of Mathematics 61, 1939.
const double kershner = 2 * pi / std::sqrt(27.0);

}  // namespace

TEST_CASE("a bare square takes about as few discs as the best coverings known") {
  for (const int n : {1, 2, 3, 4, 5, 6, 8, 10}) coverSquare(n, 400);
}

TEST_CASE("the same for all numbers up to ten, and for squares of other sizes" *
          doctest::skip(!longTests())) {
  for (const double side : {300.0, 400.0, 1000.0})
    for (int n = 1; n <= 10; ++n) coverSquare(n, side);
}

TEST_CASE("a wide bare square is covered hardly more densely than a plane need be" *
          doctest::skip(!longTests())) {
  for (const double diameters : {12.0, 16.0}) {
    CAPTURE(diameters);
    CHECK(densityOn(diameters) < 1.25 * kershner);
  }
}

TEST_CASE("one seam takes as many discs as arithmetic says") {
  // A row of n discs of diameter d covers a strip of a x b if d^2 >= (a / n)^2 + b^2. Points on the strip
  // farther apart than d need a disc each; the bound may lose up to d / 8 of that to its blocks, some to its
  // grid of 2 mm, and half a pixel of 0.9 mm or less, corner to corner, at either end.
  constexpr double diameter = 100;
  constexpr double seam = 4;
  const double step = std::sqrt(diameter * diameter - seam * seam);
  for (const double length : {80.0, 190.0, 330.0, 470.0}) {
    CAPTURE(length);
    const FillResult result = covering(bareSeam(length, seam, diameter));
    CHECK(result.count == static_cast<int>(std::ceil(length / step)));
    CHECK(result.at_least >=
          1 + static_cast<int>(std::floor(length / (diameter * 9 / 8 + 4 + 0.9 * std::sqrt(2.0)))));
    CHECK(result.at_least <= result.count);
  }
}
