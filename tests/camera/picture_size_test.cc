#include "engine/camera/picture_size.h"
#include "engine/camera/projection.h"
#include "tests/camera/example_shots.h"

#include <doctest/doctest.h>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::camera;

namespace {

Shot pictureOf(double width_mm, double height_mm, double megapixels) {
  Shot shot = headOn(3000);
  shot.sensor = {"", width_mm, height_mm};
  shot.megapixels = megapixels;
  return shot;
}

void checkSize(const Shot& shot, int full_width, int full_height, int width, int height) {
  const PictureSize size = pictureSizeOf(shot);
  CHECK(size.full_width == full_width);
  CHECK(size.full_height == full_height);
  CHECK(size.width == width);
  CHECK(size.height == height);
}

}  // namespace

TEST_CASE("a picture has the megapixels and the sensor's shape") {
  checkSize(pictureOf(36, 24, 24), 6000, 4000, 6000, 4000);
  // sqrt(24e6 * 23.6 / 15.8) = 5987.33..., 5987 * 15.8 / 23.6 = 4008.24...
  checkSize(pictureOf(23.6, 15.8, 24), 5987, 4008, 5987, 4008);
  // sqrt(12e6 * 9.8 / 7.35) = 4000, 4000 * 7.35 / 9.8 = 3000
  checkSize(pictureOf(9.8, 7.35, 12), 4000, 3000, 4000, 3000);
  // sqrt(16e6 * 17.3 / 13) = 4614.34..., 4614 * 13 / 17.3 = 3467.16...
  checkSize(pictureOf(17.3, 13, 16), 4614, 3467, 4614, 3467);
  // sqrt(20e6 * 13.2 / 8.8) = 5477.2..., 5477 * 8.8 / 13.2 = 3651.33...
  checkSize(pictureOf(13.2, 8.8, 20), 5477, 3651, 5477, 3651);
}

TEST_CASE("upright swaps the sides and nothing else") {
  Shot shot = pictureOf(23.6, 15.8, 24);
  shot.upright = true;
  checkSize(shot, 4008, 5987, 4008, 5987);
  const Camera camera = cameraOf(shot);
  CHECK(camera.pixel_pitch_mm == doctest::Approx(23.6 / 5987).epsilon(1e-14));
  CHECK(camera.focal_px == doctest::Approx(50 * 5987 / 23.6).epsilon(1e-14));
}

TEST_CASE("a crop is the largest of its shape, of the parity of the full side") {
  Shot shot = pictureOf(36, 24, 24);
  shot.crop = CropShape{8, 10};
  checkSize(shot, 6000, 4000, 3200, 4000);
  shot.upright = true;
  checkSize(shot, 4000, 6000, 4000, 5000);
  shot.crop = CropShape{10, 8};
  checkSize(shot, 4000, 6000, 4000, 3200);
  shot.crop = CropShape{1, 1};
  checkSize(shot, 4000, 6000, 4000, 4000);
  shot.crop = CropShape{5, 7};  // 5600 of 6000
  checkSize(shot, 4000, 6000, 4000, 5600);
  shot.crop = CropShape{7, 9};  // 4000 * 9 / 7 = 5142.86: 5142 is even as 6000 is
  checkSize(shot, 4000, 6000, 4000, 5142);
  shot.crop = CropShape{2, 3};
  checkSize(shot, 4000, 6000, 4000, 6000);
}

TEST_CASE("an odd side keeps its middle pixel under a crop") {
  Shot shot = pictureOf(23.6, 15.8, 24);  // 5987 x 4008
  shot.crop = CropShape{1, 1};            // 4008 would do, but 5987 is odd
  checkSize(shot, 5987, 4008, 4007, 4008);
  shot.crop = CropShape{16, 9};  // 5987 * 9 / 16 = 3367.69: 3367 is odd, 4008 even
  checkSize(shot, 5987, 4008, 5987, 3366);
}

TEST_CASE("a crop changes neither lens nor what the middle shows") {
  Shot shot = shotFrom(900, 1600, 2500, -200, 1200, 35);
  const Camera whole = cameraOf(shot);
  shot.crop = CropShape{8, 10};
  const Camera cropped = cameraOf(shot);
  CHECK(cropped.focal_px == whole.focal_px);
  CHECK(cropped.pixel_pitch_mm == whole.pixel_pitch_mm);
  const glm::dvec2 place = boardPointOf(cropped, {{1600, 2000}})->mm;
  CHECK(place.x == doctest::Approx(1300));
  CHECK(place.y == doctest::Approx(1000));
}

TEST_CASE("a full-frame equivalent goes by the diagonal, 43.27 mm") {
  // check: 25 mm on 30.2 x 16.7 mm (diagonal 34.51) is sold as 25 * 43.27 / 34.51 = 31 mm (published worked
  // example); the other way round 31.346 mm gives 25 mm.
  Shot shot = pictureOf(30.2, 16.7, 12);
  shot.lens = {31.346, true};
  CHECK(cameraOf(shot).focal_mm == doctest::Approx(25.0).epsilon(1e-4));
  // Four thirds: crop factor 2.00 by the diagonals 43.27 and 21.64 mm.
  shot = pictureOf(17.3, 13, 16);
  shot.lens = {50, true};
  CHECK(cameraOf(shot).focal_mm == doctest::Approx(50 * 21.6400 / 43.27).epsilon(1e-5));
}
