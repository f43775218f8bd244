#include "tests/gaps/synthetic.h"
#include "tests/support/pool.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace petalproof;
using namespace petalproof::gaps;

TEST_CASE("a chessboard of single pixels is specks, and is done with") {
  const MaskPicture picture = pictureOfMask(1000, 800, [](int x, int y) { return x % 2 == 0 && y % 2 == 0; });
  const GapsOfShot found = findGaps(picture.buffer, picture.panels, picture.camera, testing::allThreads());
  CHECK(found.gaps.empty());
  CHECK(found.specks.count == 500 * 400);
  CHECK(found.specks.area_mm2 == doctest::Approx(500 * 400));
}

TEST_CASE("a wholly bare picture of 24 megapixels is one gap") {
  const MaskPicture picture = pictureOfMask(6000, 4000, [](int, int) { return true; });
  const GapsOfShot found = findGaps(picture.buffer, picture.panels, picture.camera, testing::allThreads());
  REQUIRE(found.gaps.size() == 1);
  CHECK(found.gaps[0].area_mm2 == doctest::Approx(24e6));
  CHECK(std::abs(found.gaps[0].width_mm - 4000) < 1);
  CHECK(std::abs(found.gaps[0].length_mm - std::hypot(6000, 4000)) < 1);
  CHECK(found.gaps[0].outline_mm.size() == 5);
}
