#include "engine/visibility/coverage_bits.h"

#include "engine/gaps/bare_board.h"
#include "engine/gaps/gaps.h"
#include "engine/visibility/visibility_buffer.h"
#include "tests/support/pick.h"
#include "tests/support/pool.h"
#include "tests/support/random_wall.h"
#include "tests/visibility/view_of.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <random>
#include <vector>

namespace petalproof {
using testing::pick;
using testing::viewOf;

namespace {

// A mesh's own memory and the batch that refers to it.
struct Triangles {
  std::vector<glm::vec3> vertices;
  std::vector<std::array<std::uint32_t, 3>> triangles;

  void add(glm::vec3 a, glm::vec3 b, glm::vec3 c) {
    const auto first = static_cast<std::uint32_t>(vertices.size());
    vertices.insert(vertices.end(), {a, b, c});
    triangles.push_back({first, first + 1, first + 2});
  }
  visibility::TriangleBatch batch() const { return {vertices, triangles, glm::mat4x3(1.0F), 1, false}; }
};

// From dust to far beyond the picture and the guard band, some through the camera; in the camera frame.
Triangles randomTriangles(std::mt19937_64& random, int count, const visibility::RasterView& view) {
  Triangles made;
  for (int k = 0; k < count; ++k) {
    const double reach = std::exp2(pick(random, -3, random() % 8 == 0 ? 20 : 8));
    const glm::dvec2 middle(pick(random, -20, view.width_px + 20), pick(random, -20, view.height_px + 20));
    std::array<glm::vec3, 3> corners;
    for (glm::vec3& corner : corners) {
      const glm::dvec2 px = middle + glm::dvec2(pick(random, -reach, reach), pick(random, -reach, reach));
      const double distance = random() % 40 == 0 ? pick(random, -900, 10) : pick(random, 400, 1200);
      corner = glm::vec3(distance * (px.x - view.principal_px.x) / view.focal_px,
                         distance * (view.principal_px.y - px.y) / view.focal_px, -distance);
    }
    made.add(corners[0], corners[1], corners[2]);
  }
  return made;
}

// Pixels that are in one but not in the other.
int differing(const visibility::PixelMask& mask, const visibility::IdBuffer& ids) {
  REQUIRE(mask.width_px == ids.width_px);
  REQUIRE(mask.height_px == ids.height_px);
  int count = 0;
  for (int y = 0; y < ids.height_px; ++y)
    for (int x = 0; x < ids.width_px; ++x) count += mask.has(x, y) != (ids.id(x, y) != 0) ? 1 : 0;
  return count;
}

int pixelsIn(const visibility::PixelMask& mask) {
  int count = 0;
  for (int y = 0; y < mask.height_px; ++y)
    for (int x = 0; x < mask.width_px; ++x) count += mask.has(x, y) ? 1 : 0;
  return count;
}

}  // namespace

// 200 mm wide and 100 mm high, 500 mm away, seen with 100 px of focal length: 40 by 20 pixels about the
// middle. Of a disc of 10.25 px radius the pixel centres inside are counted one by one.
TEST_CASE("coverage bits: a rectangle and a disc by arithmetic") {
  const visibility::RasterView view = viewOf(150, 90, 100);
  Triangles sheet;
  sheet.add({-100, -50, -500}, {100, -50, -500}, {100, 50, -500});
  sheet.add({-100, -50, -500}, {100, 50, -500}, {-100, 50, -500});
  Triangles disc;
  constexpr int sides = 3000;
  const auto rim = [](int k) {
    return glm::vec3(51.25 * std::cos(2 * pi * k / sides), 51.25 * std::sin(2 * pi * k / sides), -500.0);
  };
  for (int k = 0; k < sides; ++k) disc.add({0, 0, -500}, rim(k), rim(k + 1));
  for (const visibility::RasterKernel kernel :
       {visibility::RasterKernel::baseline, visibility::RasterKernel::fastest}) {
    visibility::CoverageRasteriser rasteriser(testing::oneThread(), kernel);
    visibility::PixelMask mask;
    rasteriser.draw(std::vector{sheet.batch()}, view, mask);
    for (int y = 0; y < 90; ++y)
      for (int x = 0; x < 150; ++x) REQUIRE(mask.has(x, y) == (x >= 55 && x < 95 && y >= 35 && y < 55));
    rasteriser.draw(std::vector{disc.batch()}, view, mask);
    for (int y = 0; y < 90; ++y)
      for (int x = 0; x < 150; ++x)
        REQUIRE(mask.has(x, y) == (std::hypot(x + 0.5 - 75, y + 0.5 - 45) < 10.25));
    rasteriser.draw({}, view, mask);
    CHECK(pixelsIn(mask) == 0);
  }
}

TEST_CASE("coverage bits: the pixels that the id rasteriser covers, for triangles of any size") {
  const std::uint64_t seed = 20611;
  CAPTURE(seed);
  std::mt19937_64 random(seed);
  visibility::Rasteriser ids_of(testing::oneThread());
  visibility::CoverageRasteriser baseline(testing::oneThread(), visibility::RasterKernel::baseline);
  visibility::CoverageRasteriser fastest(testing::oneThread());
  visibility::IdBuffer ids;
  visibility::PixelMask mask;
  std::int64_t covered = 0;
  for (int round = 0; round < 400; ++round) {
    CAPTURE(round);
    const visibility::RasterView view = viewOf(1 + static_cast<int>(random() % 300),
                                               1 + static_cast<int>(random() % 200), pick(random, 20, 900));
    const Triangles made = randomTriangles(random, 1 + static_cast<int>(random() % 60), view);
    const std::vector<visibility::TriangleBatch> batches{made.batch()};
    ids_of.draw(batches, view, ids);
    baseline.draw(batches, view, mask);
    REQUIRE(differing(mask, ids) == 0);
    fastest.draw(batches, view, mask);
    REQUIRE(differing(mask, ids) == 0);
    covered += pixelsIn(mask);
  }
  CHECK(covered > 400 * 500);
}

// Edges up to the guard band's width, where rows are decided in integers.
TEST_CASE("coverage bits: the pixels that the id rasteriser covers in a tall and in a wide picture") {
  std::mt19937_64 random(4);
  for (const glm::ivec2& size : {glm::ivec2(40, 9000), glm::ivec2(9000, 40)}) {
    const visibility::RasterView view = viewOf(size.x, size.y, 5000);
    visibility::Rasteriser ids_of(testing::oneThread());
    visibility::CoverageRasteriser bits_of(testing::oneThread());
    visibility::IdBuffer ids;
    visibility::PixelMask mask;
    for (int round = 0; round < 8; ++round) {
      Triangles made;
      for (int k = 0; k < 4; ++k) {
        const auto corner = [&] {
          return glm::vec3(pick(random, -0.6, 0.6) * size.x / 5, pick(random, -0.6, 0.6) * size.y / 5,
                           -1000.0);
        };
        made.add(corner(), corner(), corner());
      }
      ids_of.draw(std::vector{made.batch()}, view, ids);
      bits_of.draw(std::vector{made.batch()}, view, mask);
      REQUIRE(differing(mask, ids) == 0);
    }
  }
}

TEST_CASE("coverage bits: triangles that aren't finite are left out") {
  constexpr float infinity = std::numeric_limits<float>::infinity();
  constexpr float not_a_number = std::numeric_limits<float>::quiet_NaN();
  const visibility::RasterView view = viewOf(70, 70, 50);
  Triangles made;
  made.add({not_a_number, 0, -500}, {100, -50, -500}, {100, 50, -500});
  made.add({0, 0, -500}, {infinity, -50, -500}, {100, 50, -500});
  made.add({0, 0, -500}, {100, 0, -500}, {100, 100, -500});
  visibility::PixelMask mask;
  visibility::CoverageRasteriser(testing::oneThread()).draw(std::vector{made.batch()}, view, mask);
  visibility::IdBuffer ids;
  visibility::Rasteriser(testing::oneThread()).draw(std::vector{made.batch()}, view, ids);
  CHECK(differing(mask, ids) == 0);
  CHECK(pixelsIn(mask) > 20);
}

TEST_CASE("coverage bits: what a wall shows bare, pixel by pixel as by ids, for any number of threads") {
  for (const std::uint64_t seed : {3U, 4U}) {
    CAPTURE(seed);
    testing::RandomWallSpec spec{3, 2, 7, 4.0, seed};
    scene::Scene scene = testing::randomWall(spec);
    scene.panels.has_panel.at(1, 1) = seed == 4 ? 0 : 1;
    scene.panels.ground_covered = seed == 4;
    const std::vector<visibility::TriangleBatch> batches = visibility::batchesOf(scene);
    for (const double turn_deg : {0.0, 35.0, -75.0}) {
      CAPTURE(turn_deg);
      const camera::Camera camera = testing::cameraOnWall(scene.panels, 0.3, turn_deg);
      visibility::VisibilityBuffer buffer;
      visibility::VisibilityRenderer(testing::oneThread()).renderIds(scene, camera, buffer);
      const visibility::PixelMask board = gaps::bareBoardMask(scene.panels, camera);
      int bare_pixels = 0;
      for (const int threads : {1, 2, 7}) {
        CAPTURE(threads);
        visibility::PixelMask bare;
        visibility::CoverageRasteriser(Pool(threads))
            .drawUncovered(batches, visibility::rasterViewOf(camera), board, bare);
        bare_pixels = pixelsIn(bare);
        for (int y = 0; y < buffer.height_px; ++y)
          for (int x = 0; x < buffer.width_px; ++x)
            REQUIRE(bare.has(x, y) == gaps::isBare(buffer.id(x, y), scene.panels));
      }
      CHECK(bare_pixels > 100);
    }
  }
}

}  // namespace petalproof
