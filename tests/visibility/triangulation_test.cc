// Any triangulation of the frame covers each pixel exactly once.

#include "engine/visibility/rasteriser.h"
#include "tests/support/pick.h"
#include "tests/support/pool.h"
#include "tests/support/sanitized.h"
#include "tests/visibility/picture_triangles.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

namespace petalproof {
using testing::pick;

namespace {

using testing::PictureTriangles;
using PictureTriangle = std::array<glm::dvec2, 3>;

// A place in the triangle, on the grid that corners are snapped to; often a pixel's centre, corner or the
// middle of its side.
glm::dvec2 pointIn(std::mt19937_64& random, const PictureTriangle& t) {
  const double a = pick(random, 0, 1);
  const double b = pick(random, 0, 1 - a);
  const glm::dvec2 place = t[0] + a * (t[1] - t[0]) + b * (t[2] - t[0]);
  const double grid = random() % 2 == 0 ? 2 : 1024;
  return {std::floor(place.x * grid) / grid, std::floor(place.y * grid) / grid};
}

double area(const PictureTriangle& t) {
  return (t[1].x - t[0].x) * (t[2].y - t[0].y) - (t[2].x - t[0].x) * (t[1].y - t[0].y);
}

// Splits a triangle at a place inside it into three; none where the place isn't strictly inside.
bool split(std::vector<PictureTriangle>& triangles, std::size_t k, glm::dvec2 at) {
  const PictureTriangle t = triangles[k];
  const std::array<PictureTriangle, 3> parts{{{t[0], t[1], at}, {t[1], t[2], at}, {t[2], t[0], at}}};
  for (const PictureTriangle& part : parts) {
    if (area(part) * area(t) <= 0) return false;
  }
  triangles[k] = parts[0];
  triangles.insert(triangles.end(), parts.begin() + 1, parts.end());
  return true;
}

// The frame (or a rectangle around it) as two triangles, split again and again; slivers among them.
std::vector<PictureTriangle> randomTriangulation(std::mt19937_64& random, int width, int height) {
  const double reach = random() % 2 == 0 ? 0 : std::floor(pick(random, 0, 300));
  const glm::dvec2 low(-reach);
  const glm::dvec2 high(width + reach, height + reach);
  std::vector<PictureTriangle> triangles{{low, {high.x, low.y}, high}, {low, high, {low.x, high.y}}};
  const int splits = static_cast<int>(random() % 60);
  for (int k = 0; k < splits; ++k) {
    const std::size_t at = random() % triangles.size();
    split(triangles, at, pointIn(random, triangles[at]));
  }
  return triangles;
}

// How often each pixel is covered, one triangle drawn at a time.
std::vector<int> coverage(const std::vector<PictureTriangle>& triangles, int width, int height,
                          visibility::Rasteriser& rasteriser) {
  std::vector<int> times(static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
  visibility::IdBuffer buffer;
  for (const PictureTriangle& triangle : triangles) {
    PictureTriangles picture(width, height);
    picture.add(triangle);
    rasteriser.draw(picture.batches(), picture.view(), buffer);
    for (std::size_t at = 0; at < times.size(); ++at) times[at] += buffer.ids[at] != 0 ? 1 : 0;
  }
  return times;
}

}  // namespace

TEST_CASE("any triangulation of the frame covers each pixel exactly once") {
  const std::uint64_t seed = 7001;
  CAPTURE(seed);
  std::mt19937_64 random(seed);
  visibility::Rasteriser rasteriser(testing::oneThread());
  std::size_t triangle_count = 0;
  for (int round = 0; round < testing::fewerIfSanitized(1000); ++round) {
    CAPTURE(round);
    const int width = 1 + static_cast<int>(random() % 90);
    const int height = 1 + static_cast<int>(random() % 90);
    const auto triangles = randomTriangulation(random, width, height);
    triangle_count += triangles.size();
    const std::vector<int> times = coverage(triangles, width, height, rasteriser);
    REQUIRE(std::count(times.begin(), times.end(), 1) == static_cast<std::ptrdiff_t>(times.size()));
  }
  CHECK(triangle_count > testing::fewerIfSanitized(std::size_t{20'000}));
}

TEST_CASE("a fan around a pixel's centre gives that pixel to one triangle") {
  visibility::Rasteriser rasteriser(testing::oneThread());
  for (int spokes = 3; spokes < 40; ++spokes) {
    CAPTURE(spokes);
    std::vector<PictureTriangle> fan;
    const glm::dvec2 middle(8.5, 8.5);
    const auto rim = [&](int k) {
      const double turn = 2 * 3.14159265358979323846 * (k % spokes) / spokes;
      return middle + 40.0 * glm::dvec2(std::cos(turn), std::sin(turn));
    };
    for (int k = 0; k < spokes; ++k) fan.push_back({middle, rim(k), rim(k + 1)});
    const std::vector<int> times = coverage(fan, 17, 17, rasteriser);
    CHECK(std::count(times.begin(), times.end(), 1) == 17 * 17);
  }
}

}  // namespace petalproof
