#include "engine/picture/lens_blur.h"
#include "engine/base/opponent_colour.h"
#include "engine/camera/projection.h"

#include "engine/base/units.h"
#include "engine/picture/disc.h"
#include "engine/reading/reading.h"
#include "tests/reading/synthetic_petals.h"
#include "tests/support/pool.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::camera;
using namespace petalproof::picture;
using namespace petalproof::reading;
using synthetic::even;

namespace {

std::size_t at(const WorkingPicture& picture, int x, int y) { return picture.offset(x, y); }

BlurredPicture blurOf(const WorkingPicture& picture, const LensBlur& lens,
                      const InversePlane& board = {1.0 / 4000, 0, 0}) {
  BlurredPicture soft;
  blur(picture, board, lens, testing::allThreads(), soft);
  return soft;
}

// Light-dark of grey light, and back.
float grey(const Planes& planes, int x, int y) {
  return planes.plane[0][planes.offset(x, y)] / opponentFromLinear(glm::vec3(1)).x;
}

// Left half bloom, bright, at 3 m; right half bare board, dark, at 4 m.
WorkingPicture bloomBesideBoard() {
  WorkingPicture picture = even(160, 60, glm::vec3(0.9F));
  for (int y = 0; y < 60; ++y)
    for (int x = 80; x < 160; ++x) {
      const std::size_t k = at(picture, x, y);
      picture.bare_share[k] = 1;
      picture.bloom_share[k] = 0;
      picture.bare[k] = glm::vec3(0.1F);
    }
  for (float& inverse : picture.front_inverse_mm) inverse = 1.0F / 3000;
  return picture;
}

}  // namespace

TEST_CASE("a disc's chords add up to its area") {
  for (const double diameter : {0.3, 0.9, 1.0, 2.5, 9.0, 31.7}) {
    const Disc disc(diameter);
    double sum = 0;
    for (int row = -disc.reach(); row <= disc.reach(); ++row)
      sum += 2 * static_cast<double>(disc.halfChord(row));
    CHECK(sum == doctest::Approx(pi * diameter * diameter / 4).epsilon(1e-5));
  }
}

TEST_CASE("an even picture stays even, also at its edge") {
  const WorkingPicture picture = even(90, 70, glm::vec3(0.4F));
  const BlurredPicture soft = blurOf(picture, {40, 3000});
  for (int y = 0; y < 70; y += 3)
    for (int x = 0; x < 90; ++x) CHECK(grey(soft.as_is, x, y) == doctest::Approx(0.4).epsilon(1e-4));
}

TEST_CASE("in focus nothing changes") {
  WorkingPicture picture = even(40, 40, glm::vec3(0.2F));
  picture.front[at(picture, 20, 20)] = glm::vec3(1);
  const BlurredPicture sharp = blurOf(picture, {100, 1 / static_cast<double>(synthetic::petal_inverse_mm)});
  CHECK(grey(sharp.as_is, 20, 20) == doctest::Approx(1));
  CHECK(grey(sharp.as_is, 21, 20) == doctest::Approx(0.2));
}

TEST_CASE("a step edge spreads as the disc's edge does") {
  // Share of a disc of radius r on one side of a line at distance t from its middle, in closed form:
  // 1/2 + (t sqrt(r^2 - t^2) + r^2 asin(t / r)) / (pi r^2).
  WorkingPicture picture = even(120, 60, glm::vec3(0));
  for (int y = 0; y < 60; ++y)
    for (int x = 60; x < 120; ++x) picture.front[at(picture, x, y)] = glm::vec3(1);
  for (const double diameter : {4.0, 9.3, 22.0}) {
    CAPTURE(diameter);
    // petals at 3900 mm, focus at 1950: the disc is half of what is endlessly far.
    const BlurredPicture soft = blurOf(picture, {2 * diameter, 1950});
    CHECK(soft.widest_px == doctest::Approx(diameter).epsilon(1e-5));
    const double r = diameter / 2;
    for (int x = 40; x < 80; ++x) {
      const double t = std::clamp(x + 0.5 - 60, -r, r);
      const double expected = 0.5 + (t * std::sqrt(r * r - t * t) + r * r * std::asin(t / r)) / (pi * r * r);
      CHECK(std::abs(static_cast<double>(grey(soft.as_is, x, 30)) - expected) <
            0.16 / diameter);  // whole pixels
    }
  }
}

TEST_CASE("a near bloom's blur ends softly on a sharp board") {
  const WorkingPicture picture = bloomBesideBoard();
  const BlurredPicture soft = blurOf(picture, {36, 4000});  // 12 px for the bloom, none for the board
  float before = grey(soft.as_is, 60, 30);
  CHECK(before == doctest::Approx(0.9).epsilon(1e-3));
  for (int x = 61; x < 100; ++x) {
    const float now = grey(soft.as_is, x, 30);
    CHECK(now <= before + 1e-4F);
    CHECK(before - now < 0.12F);  // no step: 0.8 over 12 px
    before = now;
  }
  CHECK(before == doctest::Approx(0.1).epsilon(1e-3));
}

TEST_CASE("a sharp bloom before a blurred board stays sharp") {
  const WorkingPicture picture = bloomBesideBoard();
  const BlurredPicture soft = blurOf(picture, {48, 3000});
  for (int x = 60; x < 80; ++x) CHECK(grey(soft.as_is, x, 30) == doctest::Approx(0.9).epsilon(1e-3));
  for (int x = 80; x < 100; ++x) CHECK(grey(soft.as_is, x, 30) == doctest::Approx(0.1).epsilon(1e-2));
}

TEST_CASE("the board's inverse distance is linear in pixels and right at any of them") {
  Shot shot;
  shot.sensor = {"full frame", 36, 24};
  shot.lens = {50, false};
  shot.megapixels = 1;
  shot.camera_right = {900};
  shot.camera_above_floor = {1300};
  shot.camera_out = {2500};
  shot.aim_above_floor = {1100};
  const Camera camera = *makeCamera(shot, {Units::millimetre, 2400, 2400, 0}).value;
  const WorkingSize size{camera.width_px / 2, camera.height_px / 2, 30};
  const InversePlane board = boardInverse(camera, size);
  for (const auto& [x, y] :
       {std::pair(0, 0), std::pair(size.width_px - 1, 40), std::pair(77, size.height_px - 1)}) {
    const glm::dvec2 pixel((x + 0.5) * camera.width_px / size.width_px,
                           (y + 0.5) * camera.height_px / size.height_px);
    const auto place = boardPointOf(camera, {pixel});
    REQUIRE(place);
    const glm::dvec3 seen = camera.cameraFromWall * (glm::dvec3(place->mm, 0) - camera.position.mm);
    CHECK(board.at(x, y) == doctest::Approx(-1 / seen.z).epsilon(1e-9));
  }
}
