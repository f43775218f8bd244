#include "engine/reading/scielab.h"

#include "engine/base/colour.h"
#include "engine/base/colour_difference.h"
#include "engine/base/units.h"
#include "tests/support/pool.h"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <random>

using namespace petalproof;
using namespace petalproof::reading;

namespace {

LinearImage uniform(int size, const glm::vec3& light) {
  return {size, size,
          std::vector<glm::vec3>(static_cast<std::size_t>(size) * static_cast<std::size_t>(size), light)};
}

// A centred square of `side` pixels.
LinearImage withSquare(int size, int side, const glm::vec3& ground, const glm::vec3& square) {
  LinearImage image = uniform(size, ground);
  const int first = (size - side) / 2;
  for (int y = first; y < first + side; ++y)
    for (int x = first; x < first + side; ++x)
      image.pixels[static_cast<std::size_t>(y) * static_cast<std::size_t>(size) +
                   static_cast<std::size_t>(x)] = square;
  return image;
}

double largest(const std::vector<float>& values) { return *std::max_element(values.begin(), values.end()); }

double plain(const glm::vec3& a, const glm::vec3& b) {
  return difference1976(labFromXyz(xyzFromLinear(glm::dvec3(a))), labFromXyz(xyzFromLinear(glm::dvec3(b))));
}

double squareDifference(double pixels_per_degree, int side, const glm::vec3& ground,
                        const glm::vec3& square) {
  const LinearImage a = uniform(256, ground);
  return largest(
      scielabDifference(a, withSquare(256, side, ground, square), pixels_per_degree, testing::allThreads()));
}

const glm::vec3 pink = linearFromSrgb({0xf4, 0xc2, 0xc2});
const glm::vec3 white = linearFromSrgb({255, 255, 255});

// How much of a wave of `cycles` a degree along a row a plane's kernel lets through, from its taps.
double passed(const std::vector<EyeGaussian>& kernel, double pixels_per_degree, double cycles) {
  double sum = 0;
  for (const EyeGaussian& gaussian : kernel) {
    double one = gaussian.taps[0];
    for (std::size_t k = 1; k < gaussian.taps.size(); ++k)
      one += 2 * gaussian.taps[k] * std::cos(2 * pi * cycles * static_cast<double>(k) / pixels_per_degree);
    sum += gaussian.weight * one;
  }
  return sum;
}

}  // namespace

TEST_CASE("the kernels pass waves as the published parameters say") {
  // Sum of w exp(-(pi s f)^2) over sum of w with the parameters of Zhang and Wandell 1996; computed apart
  // from this project. Under 2 cycles a degree the cut at half a degree shows; it lets up to a thousandth
  // through elsewhere.
  struct Passed {
    double cycles;
    double plane[3];
  };
  const Passed expected[] = {{2, {1.028937, 0.580449, 0.508393}},
                             {4, {0.891081, 0.483846, 0.360908}},
                             {8, {0.604943, 0.233644, 0.092535}},
                             {16, {0.132618, 0.012704, 0.000400}},
                             {30, {0.000816, 0.000001, 0}}};
  const EyeKernels kernels = eyeKernels(240);
  for (const Passed& one : expected) {
    CAPTURE(one.cycles);
    for (std::size_t p = 0; p < 3; ++p)
      CHECK(std::abs(passed(kernels.planes[p], 240, one.cycles) - one.plane[p]) < 0.02 * one.plane[p] + 1e-3);
  }
}

TEST_CASE("every kernel sums to one") {
  for (const double density : {1.0, 7.5, 30.0, 60.0, 120.0}) {
    const EyeKernels kernels = eyeKernels(density);
    for (const auto& plane : kernels.planes)
      CHECK(passed(plane, density, 0) == doctest::Approx(1).epsilon(1e-5));
  }
}

TEST_CASE("a uniform pair differs by the plain CIELAB difference") {
  // Zhang and Wandell 1996, abstract: over uniform regions S-CIELAB equals CIELAB.
  for (const double density : {20.0, 60.0}) {
    const auto map = scielabDifference(uniform(96, pink), uniform(96, white), density, testing::allThreads());
    for (const float difference : map) CHECK(std::abs(difference - plain(pink, white)) < 2e-3);
  }
  CHECK(plain(pink, white) == doctest::Approx(25.7164).epsilon(1e-4));
}

TEST_CASE("white squares on pink differ as computed apart from this project") {
  // 256 x 256 pixels, centred square: an independent implementation of the same definition, not a
  // publication.
  struct Row {
    double density;
    double side[6];
  };
  const int sides[] = {1, 2, 4, 8, 16, 64};
  const Row rows[] = {{30, {11.0205, 16.8879, 23.8989, 24.9675, 25.6950, 25.7942}},
                      {60, {3.0019, 8.3951, 18.8265, 23.9944, 24.9770, 25.7892}},
                      {120, {0.7680, 2.7747, 8.9491, 19.3311, 24.0228, 25.6945}}};
  for (const Row& row : rows) {
    for (int k = 0; k < 6; ++k) {
      CAPTURE(row.density);
      CAPTURE(sides[k]);
      CHECK(squareDifference(row.density, sides[k], pink, white) ==
            doctest::Approx(row.side[k]).epsilon(0.001));
    }
  }
}

TEST_CASE("equal angles give equal answers") {
  // The rest is the square's sampling: 8 % at one kernel width, less for larger ones.
  const double tolerance[] = {0.08, 0.06, 0.03, 0.01};
  for (int k = 0; k < 4; ++k) {
    const int side = 2 << k;
    CAPTURE(side);
    CHECK(squareDifference(60, side, pink, white) ==
          doctest::Approx(squareDifference(120, 2 * side, pink, white)).epsilon(tolerance[k]));
  }
}

TEST_CASE("squares come in the same order as by another published measure") {
  // P. Andersson et al., "FLIP: A Difference Evaluator for Alternating Images", 2020: largest values for a
  // centred square at 67.02 pixels a degree, computed with the authors' program: white on pink, side 2 and 8.
  const double flip_2 = 0.452066;
  const double flip_8 = 0.820282;
  const double two = squareDifference(67.0206, 2, pink, white);
  const double eight = squareDifference(67.0206, 8, pink, white);
  CHECK((two < eight) == (flip_2 < flip_8));
  double before = 0;
  for (int side = 1; side <= 8; ++side) {
    const double now = squareDifference(67.0206, side, pink, white);
    CHECK(now > before);
    before = now;
  }
}

TEST_CASE("a small picture alone is what a large dark one gives there") {
  std::mt19937 random(7);
  std::uniform_real_distribution<float> value(-1, 1);
  const EyeKernels kernels = eyeKernels(40);
  Planes small(23, 9);
  Planes large(160, 150);
  for (std::size_t p = 0; p < 3; ++p)
    for (int y = 0; y < small.height_px; ++y)
      for (int x = 0; x < small.width_px; ++x) {
        small.plane[p][small.offset(x, y)] = value(random);
        large.plane[p][large.offset(x + 70, y + 60)] = small.plane[p][small.offset(x, y)];
      }
  const Planes alone = seenByEyeAlone(small, kernels);
  Planes among;
  seeByEye(large, kernels, TileSet(160, 150, true), testing::allThreads(), among);
  for (std::size_t p = 0; p < 3; ++p)
    for (int y = 0; y < small.height_px; ++y)
      for (int x = 0; x < small.width_px; ++x)
        CHECK(std::abs(alone.plane[p][alone.offset(x, y)] - among.plane[p][among.offset(x + 70, y + 60)]) <
              1e-5F);
}

TEST_CASE("only the tiles wanted are worked on") {
  Planes planes(400, 330);
  for (auto& plane : planes.plane) std::fill(plane.begin(), plane.end(), 1.0F);
  TileSet wanted(400, 330);
  wanted.add(-5, -5, 3, 3);
  wanted.add(399, 329, 460, 400);
  Planes seen(400, 330);
  seeByEye(planes, eyeKernels(30), wanted, testing::allThreads(), seen);
  CHECK(seen.plane[0][seen.offset(10, 10)] == doctest::Approx(1));
  CHECK(seen.plane[1][seen.offset(399, 329)] == doctest::Approx(1));
  CHECK(seen.plane[0][seen.offset(200, 10)] == 0);
  CHECK(seen.plane[0][seen.offset(10, 200)] == 0);
}
