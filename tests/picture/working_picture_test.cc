#include "engine/picture/working_picture.h"

#include "engine/base/colour.h"
#include "engine/base/stopping.h"
#include "engine/gaps/gaps.h"
#include "engine/picture/internal/slit.h"
#include "tests/reading/simple_walls.h"
#include "tests/support/pool.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstring>
#include <stop_token>
#include <thread>

namespace petalproof::testing {
namespace {

visibility::VisibilityBuffer seenBy(const scene::Scene& scene, const camera::Camera& camera) {
  visibility::VisibilityBuffer seen;
  visibility::VisibilityRenderer(testing::allThreads()).render(scene, camera, {}, {}, seen);
  return seen;
}

camera::WorkingSize sized(int width_px, int height_px) {
  camera::WorkingSize size;
  size.width_px = width_px;
  size.height_px = height_px;
  return size;
}

picture::WorkingPicture painted(const scene::Scene& scene, const camera::Camera& camera,
                                const camera::WorkingSize& size, int threads = 2) {
  return picture::WallPainter(scene, Pool(threads)).paint(camera, seenBy(scene, camera), size, scene.colours);
}

glm::vec3 whole(const picture::WorkingPicture& picture, std::size_t at) {
  const float bare = picture.bare_share[at];
  return picture.front[at] * (1 - bare) + picture.bare[at] * bare;
}

// Two cards, one tilted over a seam, and much bare board.
scene::Scene smallScene() {
  scene::Scene scene = bareWall(2, 3);
  hang(scene, card({560, 200, 25}, 35), {200, 60, 40});
  hang(scene, quad({590, 170, 5}, {650, 180, 20}, {640, 240, 45}, {585, 225, 10}), {60, 120, 200});
  return scene;
}

camera::Camera smallCamera() { return looking({640, 260, 900}, {600, 200}, 300, 200, 1.6); }

template <class T>
bool sameBytes(const std::vector<T>& a, const std::vector<T>& b) {
  return a.size() == b.size() && std::memcmp(a.data(), b.data(), a.size() * sizeof(T)) == 0;
}

bool same(const picture::WorkingPicture& a, const picture::WorkingPicture& b) {
  return sameBytes(a.front, b.front) && sameBytes(a.bare, b.bare) && sameBytes(a.bare_share, b.bare_share) &&
         sameBytes(a.bloom_share, b.bloom_share) && sameBytes(a.front_inverse_mm, b.front_inverse_mm);
}

TEST_CASE("an unshaded white card and a bare white board are exactly white") {
  scene::Scene scene = bareWall(1, 0);
  scene.colours.board = {255, 255, 255};
  const camera::Camera camera = looking({300, 200, 1000}, {300, 200}, 60, 60, 1);
  const picture::WorkingPicture board = painted(scene, camera, sized(30, 30));
  hang(scene, card({300, 200, 40}, 200), {255, 255, 255});
  const picture::WorkingPicture paper = painted(scene, camera, sized(30, 30));
  for (int k = 0; k < 3; ++k) {
    CHECK(board.bare[450][k] == doctest::Approx(1).epsilon(1e-4));
    CHECK(paper.front[450][k] == doctest::Approx(1).epsilon(1e-4));
  }
  CHECK(board.bare_share[450] == 1);
  CHECK(paper.bloom_share[450] == 1);
  CHECK(paper.front_inverse_mm[450] == doctest::Approx(1.0 / 960).epsilon(1e-4));
}

TEST_CASE("black stays black") {
  scene::Scene scene = smallScene();
  scene.colours = {{0, 0, 0}, {0, 0, 0}, {0, 0, 0}, {0, 0, 0}};
  for (scene::BloomInstance& bloom : scene.blooms) bloom.colour = {0, 0, 0};
  const picture::WorkingPicture picture = painted(scene, smallCamera(), sized(90, 60));
  bool black = true;
  for (std::size_t k = 0; k < picture.front.size(); ++k)
    black = black && whole(picture, k) == glm::vec3(0.0F);
  CHECK(black);
}

TEST_CASE("bare area is kept, also where pixels are cut") {
  const scene::Scene scene = smallScene();
  const camera::Camera camera = smallCamera();
  const visibility::VisibilityBuffer seen = seenBy(scene, camera);
  const auto bare = std::count_if(seen.ids.begin(), seen.ids.end(),
                                  [&](visibility::PixelId id) { return gaps::isBare(id, scene.panels); });
  picture::WallPainter painter(scene, testing::allThreads());
  for (const camera::WorkingSize& size :
       {sized(300, 200), sized(150, 100), sized(97, 71), sized(40, 200), sized(1, 1)}) {
    CAPTURE(size.width_px);
    const picture::WorkingPicture picture = painter.paint(camera, seen, size, scene.colours);
    double sum = 0;
    for (const float share : picture.bare_share) sum += share;
    const double pixel_area = 300.0 * 200.0 / size.width_px / size.height_px;
    CHECK(sum * pixel_area == doctest::Approx(static_cast<double>(bare)).epsilon(2e-6));
  }
}

TEST_CASE("a working pixel is the mean of the shot's pixels under it") {
  const scene::Scene scene = smallScene();
  const camera::Camera camera = smallCamera();
  picture::WallPainter painter(scene, testing::allThreads());
  const visibility::VisibilityBuffer seen = seenBy(scene, camera);
  const picture::WorkingPicture fine = painter.paint(camera, seen, sized(300, 200), scene.colours);
  const picture::WorkingPicture coarse = painter.paint(camera, seen, sized(100, 50), scene.colours);
  float worst = 0;
  for (int y = 0; y < 50; ++y) {
    for (int x = 0; x < 100; ++x) {
      glm::vec3 mean(0.0F);
      for (int k = 0; k < 12; ++k) {
        mean += whole(fine, static_cast<std::size_t>((4 * y + k / 3) * 300 + 3 * x + k % 3)) / 12.0F;
      }
      const glm::vec3 off = glm::abs(mean - whole(coarse, static_cast<std::size_t>(y * 100 + x)));
      worst = std::max({worst, off.x, off.y, off.z});
    }
  }
  CHECK(worst < 0.01F);
}

TEST_CASE("a picture depends neither on threads nor on the pictures before it") {
  const scene::Scene scene = smallScene();
  const camera::Camera camera = smallCamera();
  const picture::WorkingPicture one = painted(scene, camera, sized(97, 71), 1);
  CHECK(same(painted(scene, camera, sized(97, 71), 2), one));
  CHECK(same(painted(scene, camera, sized(97, 71), 7), one));
  picture::WallPainter used(scene, testing::allThreads());
  const camera::Camera other = looking({300, 100, 600}, {500, 150}, 200, 150, 2);
  used.paint(other, seenBy(scene, other), sized(100, 75), scene.colours);
  CHECK(same(used.paint(camera, seenBy(scene, camera), sized(97, 71), scene.colours), one));
}

TEST_CASE("lighting the wall can be left at any moment, and asked for again") {
  const scene::Scene scene = smallScene();
  const camera::Camera camera = smallCamera();
  const visibility::VisibilityBuffer seen = seenBy(scene, camera);
  const picture::WorkingPicture one = painted(scene, camera, sized(97, 71), 1);
  int left = 0;
  for (const int after_us : {0, 300, 1000, 3000, 10'000, 30'000}) {
    CAPTURE(after_us);
    picture::WallPainter painter(scene, testing::allThreads());
    std::stop_source source;
    const std::jthread clock([&] {
      std::this_thread::sleep_for(std::chrono::microseconds(after_us));
      source.request_stop();
    });
    if (after_us == 0) source.request_stop();
    try {
      painter.paint(camera, seen, sized(97, 71), scene.colours, source.get_token());
    } catch (const Stopped&) {
      ++left;
    }
    CHECK(same(painter.paint(camera, seen, sized(97, 71), scene.colours), one));
  }
  CHECK(left >= 1);
}

TEST_CASE("what is bare is what the buffer says") {
  const scene::Scene scene = smallScene();
  const camera::Camera camera = smallCamera();
  visibility::VisibilityBuffer seen = seenBy(scene, camera);
  std::fill(seen.ids.begin(), seen.ids.end(), visibility::PixelId(visibility::Sees::behind, 0));
  const picture::WorkingPicture picture =
      picture::WallPainter(scene, testing::allThreads()).paint(camera, seen, sized(30, 20), scene.colours);
  CHECK(*std::max_element(picture.bare_share.begin(), picture.bare_share.end()) == 0);
}

// The mean colour of a slit's bare pixels, and the largest channel's name.
glm::vec3 slitColour(const scene::Scene& scene, const camera::Camera& camera) {
  const visibility::VisibilityBuffer seen = seenBy(scene, camera);
  const picture::WorkingPicture picture =
      picture::WallPainter(scene, testing::allThreads())
          .paint(camera, seen, sized(camera.width_px, camera.height_px), scene.colours);
  glm::vec3 sum(0.0F);
  float count = 0;
  for (std::size_t k = 0; k < seen.ids.size(); ++k) {
    if (seen.ids[k].sees() != visibility::Sees::seam) continue;
    sum += picture.bare[k];
    count += 1;
  }
  REQUIRE(count > 0);
  return sum / count;
}

TEST_CASE("a slit shows what is behind straight on, the cut edge from the side, both darker than the board") {
  scene::Scene scene = bareWall(2, 4);
  scene.panels.thickness_mm = 12;
  const glm::dvec2 slit(602, 200);
  const glm::vec3 straight = slitColour(scene, looking({602, 200, 2000}, slit, 80, 20, 4));
  const glm::vec3 aside = slitColour(scene, looking({2002, 200, 1400}, slit, 80, 20, 4));
  const glm::vec3 behind = linearFromSrgb(scene.colours.behind);
  const glm::vec3 edge = linearFromSrgb(scene.colours.board_edge);
  // On the floor of a slot 4 wide and 12 deep, on the average over its width.
  CHECK(straight.x / behind.x < 0.25F);
  CHECK(straight.x / straight.z == doctest::Approx(behind.x / behind.z).epsilon(0.2));
  CHECK(aside.z / aside.x == doctest::Approx(edge.z / edge.x).epsilon(0.2));
  // From 45 degrees the upper 4 mm of the edge show: openness (1 - t / hypot(t, 4)) / 2, in the mean
  // (1 - (sqrt(2) - 1)) / 2 = 0.293.
  CHECK(aside.z / edge.z > 0.25F);
  CHECK(aside.z / edge.z < 0.42F);
}

TEST_CASE("openness in a slit in closed form") {
  CHECK(picture::opennessOfFloor(30, 30, 40) == doctest::Approx(0.6));
  CHECK(picture::opennessOfFloor(0, 30, 40) == doctest::Approx(0.3));
  CHECK(picture::opennessOfWall(3, 4) == doctest::Approx(0.1));
  CHECK(picture::opennessOfWall(3, 0) == doctest::Approx(0.5));
}

TEST_CASE("a line of sight behind the board plane") {
  scene::PanelGrid panels = bareWall(3, 4).panels;
  panels.thickness_mm = 12;
  const auto meets = [&](glm::dvec2 place, glm::dvec2 slope) {
    return picture::behindPlane(panels, {place}, slope).meets;
  };
  using Meets = picture::BehindPlane::Meets;
  CHECK(meets({602, 200}, {0, 0}) == Meets::behind);
  CHECK(meets({602, 200}, {0.1, 0}) == Meets::behind);  // 1.2 of 2 mm aside
  CHECK(meets({602, 200}, {0.2, 0}) == Meets::edge);    // 2.4
  CHECK(meets({602, 200}, {-0.2, 0.5}) == Meets::edge);
  CHECK(meets({602, 200}, {0, 5}) == Meets::behind);  // along the slit
  CHECK(meets({-3, 200}, {0.2, 0}) == Meets::open);
  CHECK(meets({-2, 200}, {0.2, 0}) == Meets::edge);  // the outline's own edge
  CHECK(meets({-2, 200}, {-0.2, 0}) == Meets::open);
  panels.has_panel.at(1, 0) = 0;
  CHECK(meets({800, 200}, {3, 3}) == Meets::behind);
  CHECK(meets({606, 200}, {-0.6, 0}) == Meets::edge);  // 7.2 mm: across the slit beside the empty cell
  CHECK(meets({606, 200}, {-0.4, 0}) == Meets::behind);
}

}  // namespace
}  // namespace petalproof::testing
