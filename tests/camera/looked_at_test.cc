#include "engine/camera/looked_at.h"

#include "tests/camera/example_shots.h"

#include <doctest/doctest.h>

#include <cmath>
#include <optional>
#include <string>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::camera;
using doctest::Approx;

namespace {

// A camera with a picture of this shape; nothing else of it counts.
Camera picture(int width_px, int height_px) {
  Camera camera;
  camera.width_px = width_px;
  camera.height_px = height_px;
  return camera;
}

Viewing viewed(const std::string& name, const Camera& camera) {
  Shot shot;
  shot.looked_at = LookedAt{name, {}, {}};
  return viewingOf(shot, camera, Units::inch);
}

void checkViewing(const Viewing& viewing, double width_mm, double distance_mm) {
  CHECK(viewing.width_mm == Approx(width_mm));
  CHECK(viewing.distance_mm == Approx(distance_mm));
}

}  // namespace

TEST_CASE("without a word a picture is a print of 254 mm in the hand") {
  checkViewing(viewingOf(Shot{}, picture(6000, 4000), Units::inch), 254, 333);
  checkViewing(viewingOf(Shot{}, picture(4000, 5000), Units::inch), 203.2, 333);
  checkViewing(viewingOf(Shot{}, picture(3000, 3000), Units::centimetre), 254, 333);
}

TEST_CASE("a print has its longer side, and a large one is looked at from farther") {
  checkViewing(viewed("print 8x10", picture(4000, 5000)), 203.2, 333);
  checkViewing(viewed("print 8x10", picture(6000, 4000)), 254, 333);  // printed whole, with white edges
  checkViewing(viewed("print 10x8", picture(6000, 4000)), 254, 333);
  checkViewing(viewed("print 4x6", picture(6000, 4000)), 152.4, 333);
  checkViewing(viewed("print 3.5x5", picture(5000, 3500)), 127, 333);
  checkViewing(viewed("print 20x30", picture(4000, 6000)), 508, 999);
}

TEST_CASE("screens and pages") {
  checkViewing(viewed("phone", picture(4000, 3000)), 71, 300);
  checkViewing(viewed("phone", picture(3000, 4000)), 71, 300);
  checkViewing(viewed("phone", picture(1000, 4000)), 38.5, 300);
  checkViewing(viewed("album", picture(6000, 4000)), 203, 400);
  checkViewing(viewed("album", picture(4000, 6000)), 203 / 1.5, 400);
  checkViewing(viewed("laptop", picture(6000, 4000)), 282, 550);
  checkViewing(viewed("laptop", picture(6000, 2000)), 300, 550);
  checkViewing(viewed("laptop", picture(4000, 5000)), 150.4, 550);
}

TEST_CASE("width and distance of one's own are in the plan's unit") {
  Shot shot;
  shot.looked_at = LookedAt{"", {8}, {13}};
  checkViewing(viewingOf(shot, picture(4000, 5000), Units::inch), 203.2, 330.2);
  checkViewing(viewingOf(shot, picture(4000, 5000), Units::centimetre), 80, 130);
}

TEST_CASE("the working picture has 60 pixels a degree at its centre") {
  // One pixel is 2 * 333 * tan(1/120 degree) = 0.096866 mm: 1 arcmin at 333 mm, 20/20 sight.
  const WorkingSize size = workingSizeOf(picture(6000, 4000), {254, 333});
  CHECK(size.width_px == 2623);  // 254 / 0.0968657 = 2622.2
  CHECK(size.height_px == 1749);
  CHECK(size.pixels_per_degree >= 60);
  CHECK(size.pixels_per_degree == Approx(60).epsilon(5e-4));
  const double pixel_mm = 254.0 / size.width_px;
  CHECK(size.pixels_per_degree == Approx(1 / (2 * std::atan(pixel_mm / 2 / 333) * 180 / pi)));
  // 300 pixels an inch at 254 mm are 52.36 a degree: worked out with a throw-away script.
  const WorkingSize coarse = workingSizeOf(picture(3000, 2000), {254, 254});
  CHECK(coarse.width_px == 3000);
  CHECK(coarse.height_px == 2000);
  CHECK(coarse.pixels_per_degree == Approx(52.3599).epsilon(1e-6));
}

TEST_CASE("a picture that is all that an eye sees is reckoned with 10 million pixels") {
  const WorkingSize size = workingSizeOf(picture(12000, 8000), {1000, 10});
  CHECK(size.width_px == 3872);  // sqrt(1e7 * 1.5) = 3872.98
  CHECK(size.height_px == 2581);
}

TEST_CASE("equal angles give equal working pictures, never larger than the shot") {
  Random random(5);
  for (int k = 0; k < 2000; ++k) {
    CAPTURE(k);
    const Camera camera =
        picture(static_cast<int>(random.magnitude(20, 12000)), static_cast<int>(random.magnitude(20, 12000)));
    const Viewing viewing = {random.magnitude(20, 3000), random.magnitude(50, 5000)};
    const WorkingSize size = workingSizeOf(camera, viewing);
    const double factor = random.magnitude(0.1, 10);
    const WorkingSize same = workingSizeOf(camera, {viewing.width_mm * factor, viewing.distance_mm * factor});
    CHECK(std::abs(size.width_px - same.width_px) <= 0);
    CHECK(size.pixels_per_degree == Approx(same.pixels_per_degree));
    CHECK(size.width_px >= 1);
    CHECK(size.width_px <= camera.width_px);
    CHECK(size.height_px <= camera.height_px);
    const double height = size.width_px * static_cast<double>(camera.height_px) / camera.width_px;
    CHECK(std::abs(size.height_px - std::max(height, 1.0)) <= 0.5 + 1e-9);
    CHECK(static_cast<double>(size.width_px) * size.height_px < 1.002e7);
    const double of_shape = std::sqrt(1e7 * camera.width_px / camera.height_px);
    const bool all_pixels = size.width_px == camera.width_px || size.width_px == std::floor(of_shape);
    if (!all_pixels) CHECK(size.pixels_per_degree >= 60 - 1e-9);
    if (!all_pixels && size.width_px > 1000) CHECK(size.pixels_per_degree < 60.1);
    if (all_pixels) CHECK(size.pixels_per_degree < 60.001 * (1 + 1.0 / camera.width_px));
  }
}
