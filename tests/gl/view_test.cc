// A view is the engine's camera: places of the wall land on the same pixels. No OpenGL needed.

#include "viewer/gl/view.h"

#include "engine/base/hash.h"
#include "engine/camera/projection.h"
#include "tests/support/random_wall.h"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

using namespace petalproof;
using namespace petalproof::scene;
using namespace petalproof::camera;
using namespace petalproof::gl;

namespace {

glm::dvec2 pixelOf(const View& view, const glm::dvec3& place) {
  const glm::dvec4 clip = glm::dmat4(view.clipFromWall) * glm::dvec4(place, 1);
  return {(clip.x / clip.w + 1) / 2 * view.width_px, (1 - clip.y / clip.w) / 2 * view.height_px};
}

// Somewhere on the wall or before it.
glm::dvec3 placeBy(std::uint64_t seed, const PanelGrid& panels) {
  return {panels.width_mm() * unitFromHash(mixed(seed)), panels.height_mm() * unitFromHash(mixed(seed + 1)),
          300 * unitFromHash(mixed(seed + 2))};
}

}  // namespace

TEST_CASE("a view shows each place where the engine's camera projects it") {
  const PanelGrid panels = testing::randomWall(testing::smallWall(3)).panels;
  for (const double turn : {-50.0, 0.0, 35.0}) {
    const Camera camera = testing::cameraOnWall(panels, 6, turn);
    const View view = viewOf(camera, panels);
    for (std::uint64_t k = 0; k < 300; ++k) {
      const glm::dvec3 place = placeBy(10 * k, panels);
      const auto pixel = project(camera, {place});
      REQUIRE(pixel);
      // Clip space is kept in 32 bits: 24 bits of 3,000 pixels, a few roundings.
      CHECK(glm::distance(pixelOf(view, place), pixel->px) < 0.01);
    }
  }
}

TEST_CASE("a part of a view shows the same places, counted from its own corner") {
  const PanelGrid panels = testing::randomWall(testing::smallWall(4)).panels;
  const View whole = viewOf(testing::cameraOnWall(panels, 2, 20), panels);
  const View part = partOf(whole, 311, 97, 640, 481);
  CHECK(part.width_px == 640);
  CHECK(part.height_px == 481);
  for (std::uint64_t k = 0; k < 100; ++k) {
    const glm::dvec3 place = placeBy(7 * k, panels);
    CHECK(glm::distance(pixelOf(part, place) + glm::dvec2(311, 97), pixelOf(whole, place)) < 0.01);
  }
}

TEST_CASE("head-on, a millimetre is as many pixels everywhere, whatever stands out") {
  const View view = headOnView({{-50, -20}, {950, 480}}, 2000, 1000);
  CHECK(glm::distance(pixelOf(view, {-50, 480, 0}), {0, 0}) < 1e-3);
  CHECK(glm::distance(pixelOf(view, {950, -20, 250}), {2000, 1000}) < 1e-3);
  CHECK(glm::distance(pixelOf(view, {450, 230, 80}), {1000, 500}) < 1e-3);
}

TEST_CASE("an eye looks where it is turned to") {
  const Camera ahead = eyeCamera({{500, 1500, 3000}}, 0, 0, 60, 800, 600);
  CHECK(glm::distance(rayDirection(ahead, {{400, 300}}), {0, 0, -1}) < 1e-12);
  const Camera right = eyeCamera({{500, 1500, 3000}}, 90, 0, 60, 800, 600);
  CHECK(glm::distance(rayDirection(right, {{400, 300}}), {1, 0, 0}) < 1e-12);
  const Camera up = eyeCamera({{500, 1500, 3000}}, 0, 30, 60, 800, 600);
  CHECK(rayDirection(up, {{400, 300}}).y == doctest::Approx(0.5));
  CHECK(fieldOfView(ahead).across_deg == doctest::Approx(60));
  // Straight up has no right: the eye stops before it.
  CHECK(rayDirection(eyeCamera({{0, 0, 1}}, 0, 120, 60, 8, 6), {{4, 3}}).y < 0.997);
}

TEST_CASE("in motion a picture has two million pixels at most, and shows the same places") {
  const PanelGrid panels = testing::randomWall(testing::smallWall(3)).panels;
  const View whole = headOnView({{0, 0}, {panels.width_mm(), panels.height_mm()}}, 3840, 2160);
  CHECK(shareInMotion(whole) == 0.5);
  CHECK(shareInMotion(headOnView({{0, 0}, {100, 100}}, 1920, 1080)) == 1);
  CHECK(shareInMotion(headOnView({{0, 0}, {100, 100}}, 1024, 700)) == 1);
  CHECK(shareInMotion(headOnView({{0, 0}, {100, 100}}, 5760, 3240)) == doctest::Approx(1.0 / 3));
  const View small = smaller(whole, 0.5);
  CHECK(small.width_px == 1920);
  CHECK(small.height_px == 1080);
  for (std::uint64_t k = 0; k < 100; ++k) {
    const glm::dvec3 place = placeBy(10 * k, panels);
    CHECK(glm::distance(2.0 * pixelOf(small, place), pixelOf(whole, place)) < 1e-9);
  }
  CHECK(smaller(headOnView({{0, 0}, {100, 100}}, 3, 3), 0.01).height_px == 1);
}
