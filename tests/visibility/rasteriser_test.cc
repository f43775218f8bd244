#include "engine/visibility/rasteriser.h"

#include "engine/visibility/visibility_buffer.h"
#include "tests/support/pick.h"
#include "tests/support/pool.h"
#include "tests/support/random_wall.h"
#include "tests/visibility/embree_caster.h"
#include "tests/visibility/picture_triangles.h"
#include "tests/visibility/view_of.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cmath>
#include <limits>
#include <optional>
#include <random>
#include <thread>

namespace petalproof {
using testing::pick;
using testing::viewOf;

namespace {

using testing::PictureTriangles;

// Does the ray through a pixel's centre meet the triangle (camera frame, long doubles)? Nothing where it
// passes so near an edge that snapping may decide.
std::optional<bool> meets(const std::array<glm::vec3, 3>& t, const visibility::RasterView& view, int x,
                          int y) {
  const auto cross = [](const glm::dvec3& a, const glm::dvec3& b) {
    return glm::dvec3(a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x);
  };
  const auto side = [&](const glm::dvec3& a, const glm::dvec3& b, glm::dvec2 px) {
    const glm::dvec3 ray((px.x - view.principal_px.x) / view.focal_px,
                         (view.principal_px.y - px.y) / view.focal_px, -1);
    const glm::dvec3 n = cross(a, b);
    return n.x * ray.x + n.y * ray.y + n.z * ray.z;
  };
  const glm::dvec3 a(t[0]);
  const glm::dvec3 b(t[1]);
  const glm::dvec3 c(t[2]);
  const auto inside = [&](glm::dvec2 px) {
    const double ab = side(a, b, px);
    const double bc = side(b, c, px);
    const double ca = side(c, a, px);
    const glm::dvec3 n = cross(b - a, c - a);
    const double k = n.x * a.x + n.y * a.y + n.z * a.z;
    return (k > 0 && ab > 0 && bc > 0 && ca > 0) || (k < 0 && ab < 0 && bc < 0 && ca < 0);
  };
  const glm::dvec2 centre(x + 0.5, y + 0.5);
  const bool answer = inside(centre);
  const double reach = 1.0 / 256;
  for (const glm::dvec2& shift :
       {glm::dvec2(reach, 0), glm::dvec2(-reach, 0), glm::dvec2(0, reach), glm::dvec2(0, -reach),
        glm::dvec2(reach), glm::dvec2(-reach), glm::dvec2(reach, -reach), glm::dvec2(-reach, reach)}) {
    if (inside(centre + shift) != answer) return std::nullopt;
  }
  return answer;
}

visibility::IdBuffer drawn(const std::vector<visibility::TriangleBatch>& batches,
                           const visibility::RasterView& view, int threads) {
  const Pool pool(threads);
  visibility::Rasteriser rasteriser(pool);
  visibility::IdBuffer buffer;
  rasteriser.draw(batches, view, buffer);
  return buffer;
}

}  // namespace

TEST_CASE("seven threads finish tiles side by side where seven are asked for") {
  constexpr int wanted = 7;
  std::atomic<int> here{0};
  std::atomic<int> tiles{0};
  const auto until = std::chrono::steady_clock::now() + std::chrono::seconds(20);
  const Pool pool(wanted);
  visibility::Rasteriser rasteriser(pool);
  rasteriser.drawTiles({}, viewOf(40 * 64, 64, 100), [&](const visibility::FinishedTile&) {
    ++tiles;
    ++here;
    while (here < wanted && std::chrono::steady_clock::now() < until) std::this_thread::yield();
  });
  CHECK(std::chrono::steady_clock::now() < until);
  CHECK(tiles == 40);
}

TEST_CASE("triangles that cross the camera plane show exactly their part before it") {
  const std::uint64_t seed = 90125;
  CAPTURE(seed);
  std::mt19937_64 random(seed);
  const visibility::RasterView view = viewOf(97, 83, 90);
  const std::vector<scene::Triangle> triangles{{0, 1, 2}};
  visibility::Rasteriser rasteriser(testing::oneThread());
  visibility::IdBuffer buffer;
  int covered = 0;
  int decided = 0;
  for (int round = 0; round < 1000; ++round) {
    CAPTURE(round);
    std::vector<glm::vec3> corners;
    for (int k = 0; k < 3; ++k) {
      const double z = k == 0 ? pick(random, 1, 400) : pick(random, -900, 300);
      corners.emplace_back(pick(random, -500, 500), pick(random, -500, 500), z);
    }
    rasteriser.draw(std::vector<visibility::TriangleBatch>{{corners, triangles, glm::mat4x3(1.0F), 1, false}},
                    view, buffer);
    int wrong = 0;
    for (int y = 0; y < view.height_px; ++y) {
      for (int x = 0; x < view.width_px; ++x) {
        const auto expected = meets({corners[0], corners[1], corners[2]}, view, x, y);
        if (!expected) continue;
        ++decided;
        covered += *expected ? 1 : 0;
        wrong += *expected != (buffer.id(x, y) != 0) ? 1 : 0;
      }
    }
    REQUIRE(wrong == 0);
  }
  CHECK(decided > 7'900'000);
  CHECK(covered > 300'000);
}

TEST_CASE("depth is one over the distance along the lens axis") {
  PictureTriangles picture(200, 100);
  picture.add({{{-50, -50}, {500, -50}, {-50, 500}}}, 1234.5);
  const visibility::IdBuffer buffer = drawn(picture.batches(), picture.view(), 1);
  for (int x = 0; x < 200; x += 7) {
    REQUIRE(buffer.id(x, 50) == 1);
    CHECK(buffer.inverse_depths[static_cast<std::size_t>(50 * 200 + x)] ==
          doctest::Approx(1 / 1234.5).epsilon(2e-7));
  }
}

TEST_CASE("depth of a slanted plane, to a ten-millionth") {
  // z = -1000 - x / 2 over the whole picture
  const visibility::RasterView view = viewOf(300, 200, 400);
  const std::vector<glm::vec3> corners{{-1500, -2000, -250}, {1500, -2000, -1750}, {0, 4000, -1000}};
  const std::vector<scene::Triangle> triangles{{0, 1, 2}};
  const visibility::IdBuffer buffer = drawn({{corners, triangles, glm::mat4x3(1.0F), 1, false}}, view, 1);
  int seen = 0;
  for (int y = 0; y < 200; y += 3) {
    for (int x = 0; x < 300; x += 3) {
      if (buffer.id(x, y) == 0) continue;
      ++seen;
      const double slope = (x + 0.5 - 150) / 400;  // x / depth; depth = 1000 + x / 2
      const double inverse_depth = (1 - slope / 2) / 1000;
      REQUIRE(std::abs(buffer.inverse_depths[static_cast<std::size_t>(y * 300 + x)] - inverse_depth) <
              1e-7 * inverse_depth);
    }
  }
  CHECK(seen > 5000);
}

TEST_CASE("the nearer triangle shows, at equal depth the one with the smaller id") {
  const auto corners = std::array<glm::dvec2, 3>{{{-10, -10}, {300, -10}, {-10, 300}}};
  PictureTriangles picture(100, 100);
  picture.add(corners, 900);
  picture.add(corners, 800);
  picture.add(corners, 800);
  picture.add(corners, 1000);
  const visibility::IdBuffer buffer = drawn(picture.batches(), picture.view(), 1);
  CHECK(std::count(buffer.ids.begin(), buffer.ids.end(), 2U) == 100 * 100);
  auto batches = picture.batches();
  batches.push_back(batches[0]);
  batches[0].id = 70;
  CHECK(drawn(batches, picture.view(), 1).ids == buffer.ids);
}

TEST_CASE("coplanar triangles that overlap at a slant: the smaller id everywhere") {
  // One plane, cut into different triangles of two ids.
  const visibility::RasterView view = viewOf(400, 300, 500);
  const auto onPlane = [](double x, double y) { return glm::vec3(x, y, -1500 - 0.25 * x + 0.5 * y); };
  const std::vector<glm::vec3> one{onPlane(-600, -400), onPlane(600, -400), onPlane(0, 800)};
  const std::vector<glm::vec3> two{onPlane(-512, 512), onPlane(512, 512), onPlane(0, -768)};
  const std::vector<scene::Triangle> triangles{{0, 1, 2}};
  const visibility::IdBuffer first = drawn({{one, triangles, glm::mat4x3(1.0F), 5, false}}, view, 1);
  const visibility::IdBuffer both =
      drawn({{two, triangles, glm::mat4x3(1.0F), 9, false}, {one, triangles, glm::mat4x3(1.0F), 5, false}},
            view, 1);
  int overlap = 0;
  int wrong = 0;
  for (std::size_t at = 0; at < first.ids.size(); ++at) {
    overlap += first.ids[at] != 0 ? 1 : 0;
    wrong += first.ids[at] != 0 && both.ids[at] != 5 ? 1 : 0;
  }
  CHECK(overlap > 10'000);
  CHECK(wrong == 0);
}

TEST_CASE("equal buffers for 1, 2 and 7 threads, and from call to call") {
  const scene::Scene scene = testing::randomWall({4, 3, 8, 1.5, 11});
  const camera::Camera camera = testing::cameraOnWall(scene.panels, 1.5, 35);
  const auto batches = visibility::batchesOf(scene);
  const visibility::IdBuffer one = drawn(batches, visibility::rasterViewOf(camera), 1);
  for (const int threads : {2, 7}) {
    CAPTURE(threads);
    const Pool pool(threads);
    visibility::Rasteriser rasteriser(pool);
    visibility::IdBuffer other;
    for (int call = 0; call < 2; ++call) {
      rasteriser.draw(batches, visibility::rasterViewOf(camera), other);
      CHECK(other.ids == one.ids);
      CHECK(other.inverse_depths == one.inverse_depths);
    }
  }
}

TEST_CASE("the order of batches and triangles changes nothing") {
  const scene::Scene scene = testing::randomWall({3, 2, 8, 1.5, 12});
  const visibility::RasterView view = visibility::rasterViewOf(testing::cameraOnWall(scene.panels, 0.7, -50));
  auto batches = visibility::batchesOf(scene);
  const visibility::IdBuffer forwards = drawn(batches, view, 2);
  std::reverse(batches.begin(), batches.end());
  std::vector<std::vector<scene::Triangle>> turned;
  turned.reserve(batches.size());
  for (visibility::TriangleBatch& batch : batches) {
    turned.emplace_back(batch.triangles.rbegin(), batch.triangles.rend());
    batch.triangles = turned.back();
  }
  const visibility::IdBuffer backwards = drawn(batches, view, 2);
  CHECK(backwards.ids == forwards.ids);
  CHECK(backwards.inverse_depths == forwards.inverse_depths);
}

TEST_CASE("an id for each triangle, up to the largest") {
  PictureTriangles picture(64, 64);
  picture.add({{{0, 0}, {64, 0}, {0, 64}}}, 10);
  picture.add({{{64, 64}, {0, 64}, {64, 0}}}, 10);
  auto batches = picture.batches();
  batches[0].id = 0xfffffffe;
  const visibility::IdBuffer buffer = drawn(batches, picture.view(), 1);
  CHECK(buffer.id(1, 1) == 0xfffffffe);
  CHECK(buffer.id(62, 62) == 0xffffffff);
}

TEST_CASE("triangles that aren't finite are left out, an empty picture stays empty") {
  const float nan = std::numeric_limits<float>::quiet_NaN();
  const float infinity = std::numeric_limits<float>::infinity();
  const std::vector<glm::vec3> corners{
      {nan, 0, -5}, {100, 0, -5}, {0, 100, -5}, {0, infinity, -5}, {-100, -100, -5}};
  const std::vector<scene::Triangle> triangles{{0, 1, 2}, {1, 2, 3}, {1, 2, 4}};
  const visibility::RasterView view = viewOf(40, 30, 20);
  const visibility::IdBuffer buffer = drawn({{corners, triangles, glm::mat4x3(1.0F), 1, true}}, view, 1);
  CHECK(std::count(buffer.ids.begin(), buffer.ids.end(), 3U) == 40 * 30);
  const visibility::IdBuffer nothing = drawn({}, view, 2);
  CHECK(std::count(nothing.ids.begin(), nothing.ids.end(), 0U) == 40 * 30);
  CHECK(std::count(nothing.inverse_depths.begin(), nothing.inverse_depths.end(), 0.0F) == 40 * 30);
}

TEST_CASE("a bloom against the lens doesn't spoil the depths behind it") {
  const visibility::RasterView view = viewOf(400, 300, 500);
  // A sheet from beside the camera past its edge; two sheets 0.1 mm apart 3 m away.
  const std::vector<glm::vec3> close{{0.4F, -1, 1}, {0.4F, 1, 1}, {0.4F, 0, -4}};
  const std::vector<glm::vec3> back{{-4000, -4000, -3000.1F}, {4000, -4000, -3000.1F}, {0, 6000, -3000.1F}};
  const std::vector<glm::vec3> front{{-4000, -4000, -3000}, {4000, -4000, -3000}, {0, 6000, -3000}};
  const std::vector<scene::Triangle> triangles{{0, 1, 2}};
  const visibility::IdBuffer buffer = drawn({{back, triangles, glm::mat4x3(1.0F), 1, false},
                                             {close, triangles, glm::mat4x3(1.0F), 2, false},
                                             {front, triangles, glm::mat4x3(1.0F), 3, false}},
                                            view, 1);
  CHECK(std::count(buffer.ids.begin(), buffer.ids.end(), 1U) == 0);
  CHECK(std::count(buffer.ids.begin(), buffer.ids.end(), 2U) > 1000);
  CHECK(std::count(buffer.ids.begin(), buffer.ids.end(), 3U) > 50'000);
}

}  // namespace petalproof
