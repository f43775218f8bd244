#include "engine/visibility/rasteriser.h"
#include "tests/support/pick.h"
#include "tests/support/pool.h"
#include "tests/support/sanitized.h"
#include "tests/visibility/picture_triangles.h"

#include <doctest/doctest.h>

#include <glm/common.hpp>

#include <algorithm>
#include <cmath>
#include <random>

namespace petalproof {
using testing::pick;

namespace {

using testing::PictureTriangles;

// Slow and obvious: the three edge functions of snapped corners at every pixel centre, in integers; a
// centre on an edge counts on left and on horizontal upper edges.
bool covers(std::array<std::int64_t, 3> x, std::array<std::int64_t, 3> y, int column, int row) {
  const auto cross = [](std::int64_t ax, std::int64_t ay, std::int64_t bx, std::int64_t by) {
    return static_cast<__int128>(ax) * by - static_cast<__int128>(ay) * bx;
  };
  const __int128 area = cross(x[1] - x[0], y[1] - y[0], x[2] - x[0], y[2] - y[0]);
  if (area == 0) return false;
  if (area < 0) {
    std::swap(x[1], x[2]);
    std::swap(y[1], y[2]);
  }
  const std::int64_t px = std::int64_t{column} * 1024 + 512;
  const std::int64_t py = std::int64_t{row} * 1024 + 512;
  for (std::size_t i = 0; i < 3; ++i) {  // clockwise as y points down: the inside is on the right hand
    const std::size_t j = (i + 1) % 3;
    const __int128 side = cross(x[j] - x[i], y[j] - y[i], px - x[i], py - y[i]);
    const bool left = y[j] < y[i];
    const bool upper = y[j] == y[i] && x[j] > x[i];
    if (side < 0 || (side == 0 && !left && !upper)) return false;
  }
  return true;
}

std::int64_t snapped(double px) { return static_cast<std::int64_t>(std::floor(px * 1024 + 0.5)); }

// From slivers and sub-pixel triangles to ones far larger than the picture.
std::array<glm::dvec2, 3> randomTriangle(std::mt19937_64& random, int width, int height) {
  const double reach = std::exp2(pick(random, -7, 14));
  const glm::dvec2 middle(pick(random, -0.2 * width, 1.2 * width), pick(random, -0.2 * height, 1.2 * height));
  std::array<glm::dvec2, 3> corners;
  for (glm::dvec2& corner : corners) {
    corner = middle + glm::dvec2(pick(random, -reach, reach), pick(random, -reach, reach));
  }
  const auto kind = random() % 5;
  if (kind == 1) corners[2] = 0.5 * (corners[0] + corners[1]) + glm::dvec2(pick(random, -0.02, 0.02));
  if (kind == 2) corners[1].y = corners[0].y;
  if (kind == 3) {
    for (glm::dvec2& corner : corners) corner = glm::floor(corner) + 0.5;
  }
  return corners;
}

}  // namespace

TEST_CASE("coverage is that of a slow, obvious, exact reference") {
  const std::uint64_t seed = 20261;
  CAPTURE(seed);
  std::mt19937_64 random(seed);
  visibility::Rasteriser rasteriser(testing::oneThread());
  visibility::IdBuffer buffer;
  std::int64_t covered = 0;
  for (int round = 0; round < testing::fewerIfSanitized(1000); ++round) {
    CAPTURE(round);
    const int width = 1 + static_cast<int>(random() % 150);
    const int height = 1 + static_cast<int>(random() % 150);
    PictureTriangles picture(width, height);
    picture.add(randomTriangle(random, width, height));
    rasteriser.draw(picture.batches(), picture.view(), buffer);
    const auto corners = picture.cornersInPicture(0);
    int wrong = 0;
    for (int row = 0; row < height; ++row) {
      for (int column = 0; column < width; ++column) {
        const bool expected =
            covers({snapped(corners[0].x), snapped(corners[1].x), snapped(corners[2].x)},
                   {snapped(corners[0].y), snapped(corners[1].y), snapped(corners[2].y)}, column, row);
        covered += expected ? 1 : 0;
        wrong += expected != (buffer.id(column, row) != 0) ? 1 : 0;
      }
    }
    REQUIRE(wrong == 0);
  }
  CHECK(covered > 100'000);
}

TEST_CASE("coverage in a picture so wide that it is drawn in parts") {
  const std::uint64_t seed = 5150;
  CAPTURE(seed);
  std::mt19937_64 random(seed);
  const int width = 70'001;
  const int height = 5;
  visibility::Rasteriser rasteriser(testing::allThreads());
  visibility::IdBuffer buffer;
  std::int64_t covered = 0;
  for (int round = 0; round < 20; ++round) {
    CAPTURE(round);
    PictureTriangles picture(width, height);
    picture.add({glm::dvec2(pick(random, 0, width), pick(random, -90, 3)),
                 glm::dvec2(pick(random, 0, width), pick(random, 2, 90)),
                 glm::dvec2(pick(random, 0, width), pick(random, -90, 90))});
    rasteriser.draw(picture.batches(), picture.view(), buffer);
    const auto corners = picture.cornersInPicture(0);
    int wrong = 0;
    for (int row = 0; row < height; ++row) {
      for (int column = 0; column < width; ++column) {
        // Corners are cut where parts end and then snapped anew: to a pixel's width on edges this flat.
        const auto at = [&](double shift) {
          return covers(
              {snapped(corners[0].x), snapped(corners[1].x), snapped(corners[2].x)},
              {snapped(corners[0].y + shift), snapped(corners[1].y + shift), snapped(corners[2].y + shift)},
              column, row);
        };
        const bool expected = at(0);
        covered += expected ? 1 : 0;
        if (at(-2.0 / 1024) != at(2.0 / 1024)) continue;
        wrong += expected != (buffer.id(column, row) != 0) ? 1 : 0;
      }
    }
    REQUIRE(wrong == 0);
  }
  CHECK(covered > 500'000);
}

}  // namespace petalproof
