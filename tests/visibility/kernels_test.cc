#include "engine/visibility/internal/setup.h"
#include "engine/visibility/internal/tile_kernels.h"
#include "tests/support/pick.h"

#include <doctest/doctest.h>

#include <glm/common.hpp>

#include <array>
#include <cmath>
#include <memory>
#include <random>
#include <vector>

namespace petalproof::visibility {
using petalproof::testing::pick;

namespace {

visibility::RasterView viewAround(int width_px, int height_px) {
  visibility::RasterView view;
  view.focal_px = 100;
  view.principal_px = {width_px / 2.0, height_px / 2.0};
  view.width_px = width_px;
  view.height_px = height_px;
  return view;
}

// The point of the camera frame that is seen at a place in the picture.
glm::dvec3 seenAt(glm::dvec2 px, double distance, const visibility::RasterView& view) {
  return distance * glm::dvec3((px.x - view.principal_px.x) / view.focal_px,
                               (view.principal_px.y - px.y) / view.focal_px, -1);
}

// From dust to triangles much larger than a tile; some steep, some in one plane with others.
std::vector<visibility::ScreenTriangle> randomTriangles(std::mt19937_64& random, int count,
                                                        const visibility::RasterView& view) {
  std::vector<visibility::ScreenTriangle> triangles;
  while (static_cast<int>(triangles.size()) < count) {
    const double reach = std::exp2(pick(random, -2, 9));
    const glm::dvec2 middle(pick(random, -20, view.width_px + 20), pick(random, -20, view.height_px + 20));
    const double distance = random() % 3 == 0 ? 1000 : pick(random, 400, 1200);
    const double relief = random() % 3 == 0 ? 0 : pick(random, 0, 300);
    std::array<visibility::ScreenCorner, 3> corners;
    for (visibility::ScreenCorner& corner : corners) {
      const glm::dvec2 place = middle + glm::dvec2(pick(random, -reach, reach), pick(random, -reach, reach));
      corner = visibility::projected(seenAt(random() % 2 == 0 ? place : glm::floor(place) + 0.5,
                                            distance + pick(random, -relief, relief), view),
                                     view);
    }
    visibility::ScreenTriangle triangle;
    const auto id = static_cast<std::uint32_t>(1 + random() % 1000);
    if (visibility::setUp(corners, visibility::planeThrough(corners), id, triangle))
      triangles.push_back(triangle);
  }
  return triangles;
}

struct Pixels {
  std::vector<std::uint32_t> ids;
  std::vector<float> depths;
  friend bool operator==(const Pixels&, const Pixels&) = default;
};

Pixels filledBy(visibility::FillTile fill, const std::vector<visibility::ScreenTriangle>& triangles, int x0,
                int y0) {
  std::vector<visibility::Candidate> candidates;
  for (const visibility::ScreenTriangle& triangle : triangles)
    candidates.push_back({&triangle, triangle.nearest});
  const auto tile = std::make_unique<visibility::Tile>();
  tile->start(x0, y0, std::exp2(38), {0, 0});
  fill(candidates, *tile);
  Pixels pixels;
  pixels.ids.resize(visibility::tile_px * visibility::tile_px);
  pixels.depths.resize(visibility::tile_px * visibility::tile_px);
  for (int row = 0; row < visibility::tile_px; ++row) {
    const auto at = static_cast<std::size_t>(row * visibility::tile_px);
    tile->readRow(row, &pixels.ids[at], &pixels.depths[at]);
  }
  return pixels;
}

}  // namespace

TEST_CASE("the kernels for all kinds of processor fill equal tiles") {
  const std::uint64_t seed = 7351;
  CAPTURE(seed);
  std::mt19937_64 random(seed);
  const visibility::RasterView view = viewAround(200, 150);
  std::size_t covered = 0;
  for (int round = 0; round < 300; ++round) {
    CAPTURE(round);
    const auto triangles = randomTriangles(random, 1 + static_cast<int>(random() % 150), view);
    const int x0 = static_cast<int>(random() % 3) * visibility::tile_px;
    const int y0 = static_cast<int>(random() % 2) * visibility::tile_px;
    const Pixels expected = filledBy(visibility::tileKernels().front().fill, triangles, x0, y0);
    for (const std::uint32_t id : expected.ids) covered += id != 0 ? 1 : 0;
    for (const visibility::TileKernel& kernel : visibility::tileKernels()) {
      CAPTURE(kernel.name);
      REQUIRE(filledBy(kernel.fill, triangles, x0, y0) == expected);
    }
  }
  CHECK(covered > 300 * 500);
}

}  // namespace petalproof::visibility
