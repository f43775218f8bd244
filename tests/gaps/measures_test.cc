#include "tests/gaps/synthetic.h"
#include "tests/support/pool.h"
#include "tests/support/sanitized.h"

#include <doctest/doctest.h>

#include <glm/geometric.hpp>
#include <opencv2/imgproc.hpp>

#include <array>
#include <cmath>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::camera;
using namespace petalproof::gaps;

namespace {

constexpr double pi_ = 3.14159265358979323846;

IsBare disc(glm::dvec2 centre, double radius) {
  return [=](glm::dvec2 p) { return glm::distance(p, centre) <= radius; };
}

// Sides along `angle_deg` and across it.
IsBare rectangle(glm::dvec2 centre, double length, double width, double angle_deg) {
  const double angle = angle_deg * pi_ / 180;
  const glm::dvec2 along(std::cos(angle), std::sin(angle));
  return [=](glm::dvec2 p) {
    const glm::dvec2 from = p - centre;
    return std::abs(glm::dot(from, along)) <= length / 2 &&
           std::abs(from.x * along.y - from.y * along.x) <= width / 2;
  };
}

const PanelGrid wide_panel = gridOf(1, 1, 3000, 2000, 0);
const glm::dvec2 middle(1500, 1000);

Gap onlyGap(const Camera& camera, const IsBare& is_bare) {
  GapsOfShot found =
      findGaps(pictureOf(wide_panel, camera, is_bare), wide_panel, camera, testing::allThreads());
  REQUIRE(found.gaps.size() == 1);
  CHECK(found.specks.count == 0);
  return found.gaps.front();
}

// From the front, from the side, from below with a wide lens, from far with a long one.
std::vector<Camera> cameras(double megapixels = 2) {
  return {cameraAt(wide_panel, {1500, 1000, 2500}, middle, 50, megapixels),
          cameraAt(wide_panel, {4200, 1300, 1800}, middle, 50, megapixels),
          cameraAt(wide_panel, {700, -300, 900}, middle, 24, megapixels),
          cameraAt(wide_panel, {-3000, 1500, 2000}, middle, 85, megapixels)};
}

}  // namespace

TEST_CASE("discs, head-on and from the side") {
  for (const Camera& camera : cameras())
    for (const double radius : {60.0, 150.0, 280.0}) {
      CAPTURE(camera.position.mm.x);
      CAPTURE(radius);
      const Gap gap = onlyGap(camera, disc(middle, radius));
      const double footprint = largestFootprint(camera, middle);
      CHECK(gap.area_mm2 == doctest::Approx(pi_ * radius * radius).epsilon(0.005));
      CHECK(std::abs(gap.width_mm - 2 * radius) < footprint);
      CHECK(std::abs(gap.length_mm - 2 * radius) < footprint);
      CHECK(glm::distance(gap.centre_mm, middle) < footprint);
      CHECK(gap.owner == Owner{GapKind::board, 0, 0, false});
    }
}

TEST_CASE("rectangles and strips at any angle, head-on and from the side") {
  for (const Camera& camera : cameras())
    for (const double angle : {0.0, 17.0, 45.0, 90.0, 128.0})
      for (const glm::dvec2& size : {glm::dvec2(400, 160), glm::dvec2(300, 300), glm::dvec2(500, 60)}) {
        CAPTURE(camera.position.mm.x);
        CAPTURE(angle);
        CAPTURE(size.y);
        const Gap gap = onlyGap(camera, rectangle(middle, size.x, size.y, angle));
        const double footprint = largestFootprint(camera, middle);
        // Sides along the pixels' rows: the border itself is only known to half a pixel.
        const double unknown = std::fmod(angle, 90) == 0 ? 0.5 * footprint * (size.x + size.y) : 0;
        CHECK(std::abs(gap.area_mm2 - size.x * size.y) < 0.005 * size.x * size.y + unknown);
        CHECK(std::abs(gap.width_mm - size.y) < footprint);
        CHECK(std::abs(gap.length_mm - std::hypot(size.x, size.y)) < footprint);
        CHECK(glm::distance(gap.centre_mm, middle) < footprint);
      }
}

TEST_CASE(
    "rectangles anywhere, from strips a few pixels wide to squares, are measured to a pixel's footprint") {
  const PanelGrid wall = gridOf(1, 1, 3000, 2000, 0);
  const std::array<Camera, 4> views = {cameraAt(wall, {1500, 1000, 2500}, middle, 50, 0.1),
                                       cameraAt(wall, {4200, 1300, 1800}, middle, 50, 0.1),
                                       cameraAt(wall, {700, -300, 900}, middle, 24, 0.1),
                                       cameraAt(wall, {-3000, 1500, 2000}, middle, 85, 0.1)};
  for (std::uint64_t seed = 1; seed <= testing::fewerIfSanitized<std::uint64_t>(400); ++seed) {
    CAPTURE(seed);
    Random random(seed);
    const Camera& camera = views[seed % views.size()];
    const double pixel = largestFootprint(camera, middle);
    const double length = pixel * random.between(12, 45);
    const double width = seed % 3 == 0 ? length * random.between(0.2, 1) : pixel * random.between(2.5, 7);
    const double angle = seed % 5 == 0 ? 45.0 * random.whole(0, 3) : random.between(0, 180);
    const glm::dvec2 at = middle + pixel * glm::dvec2(random.between(-9, 9), random.between(-9, 9));
    CAPTURE(length / pixel);
    CAPTURE(width / pixel);
    CAPTURE(angle);
    const Gap gap = onlyGap(camera, rectangle(at, length, width, angle));
    const glm::dvec2 half = 0.5 * std::hypot(length, width) *
                            glm::dvec2(std::cos(angle * pi_ / 180), std::sin(angle * pi_ / 180));
    const double footprint =
        std::max(largestFootprint(camera, at + half), largestFootprint(camera, at - half));
    CHECK(std::abs(gap.length_mm - std::hypot(length, width)) < footprint);
    CHECK(std::abs(gap.width_mm - width) < footprint);
  }
}

TEST_CASE("an L is as wide as the circle in its corner") {
  // Arms of 80 x 300: the largest circle touches both outer sides and the inner corner: with r the radius,
  // (80 - r) sqrt 2 = r.
  const IsBare shape = [](glm::dvec2 p) {
    const glm::dvec2 from = p - middle;
    return from.x >= 0 && from.y >= 0 && from.x <= 300 && from.y <= 300 && (from.x <= 80 || from.y <= 80);
  };
  for (const Camera& camera : cameras(6)) {
    const Gap gap = onlyGap(camera, shape);
    const double footprint = largestFootprint(camera, middle);
    CHECK(gap.area_mm2 == doctest::Approx(300 * 80 + 220 * 80).epsilon(0.005));
    CHECK(std::abs(gap.width_mm - 2 * 80 * std::sqrt(2.0) / (1 + std::sqrt(2.0))) < footprint);
    CHECK(std::abs(gap.length_mm - 300 * std::sqrt(2.0)) < footprint);
  }
}

TEST_CASE("a ring is as wide as its band and as long as its diameter") {
  const IsBare ring = [](glm::dvec2 p) {
    const double r = glm::distance(p, middle);
    return r >= 100 && r <= 170;
  };
  for (const Camera& camera : cameras()) {
    const Gap gap = onlyGap(camera, ring);
    const double footprint = largestFootprint(camera, middle);
    CHECK(gap.area_mm2 == doctest::Approx(pi_ * (170 * 170 - 100 * 100)).epsilon(0.005));
    CHECK(std::abs(gap.width_mm - 70) < footprint);
    CHECK(std::abs(gap.length_mm - 340) < footprint);
  }
}

TEST_CASE("a wide gap whose circle is looked for on coarse cells first") {
  // 1200 x 900 at 0.4 mm a pixel; and a large disc in a small frame.
  const Camera camera = headOnCamera(middle, 0.4, 3100, 2300);
  const Gap gap = onlyGap(camera, rectangle(middle, 1200, 900, 0));
  CHECK(gap.area_mm2 == doctest::Approx(1200 * 900).epsilon(1e-3));
  CHECK(std::abs(gap.width_mm - 900) < 0.4);
  CHECK(std::abs(gap.length_mm - 1500) < 0.4);
  CHECK(std::abs(onlyGap(camera, rectangle(middle, 860, 700, 30)).width_mm - 700) < 0.4 * std::sqrt(2.0));
  CHECK(std::abs(onlyGap(camera, disc(middle, 430)).width_mm - 860) < 0.4 * std::sqrt(2.0));
}

TEST_CASE("widths of random masks agree with OpenCV's distance transform") {
  // DIST_L2 with DIST_MASK_PRECISE is exact from centre to centre; the circle ends half a pixel before.
  int compared = 0;
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    CAPTURE(seed);
    Random random(seed);
    const int size = 160;
    cv::Mat1b coarse(18, 18);
    for (auto& value : coarse) value = static_cast<std::uint8_t>(random.whole(0, 255));
    cv::Mat1b smooth;
    cv::resize(coarse, smooth, cv::Size(size, size), 0, 0, cv::INTER_CUBIC);
    cv::Mat1b mask;
    cv::compare(smooth, random.whole(60, 150), mask, cv::CMP_LT);
    mask.row(0) = 0;
    mask.row(size - 1) = 0;
    mask.col(0) = 0;
    mask.col(size - 1) = 0;
    cv::Mat1f distances;
    cv::distanceTransform(mask, distances, cv::DIST_L2, cv::DIST_MASK_PRECISE);
    const MaskPicture picture = pictureOfMask(size, size, [&](int x, int y) { return mask(y, x) != 0; });
    for (const Gap& gap :
         findGaps(picture.buffer, picture.panels, picture.camera, testing::allThreads()).gaps) {
      float deepest = 0;
      for (const Run& run : gap.runs)
        for (int x = run.begin; x < run.end; ++x) deepest = std::max(deepest, distances(run.row, x));
      const double theirs = 2 * (deepest - 0.5);
      // Theirs has its centre on a pixel's centre, ours anywhere.
      CHECK(gap.width_mm > theirs - 0.25);
      CHECK(gap.width_mm < theirs + 1.25);
      ++compared;
    }
  }
  CHECK(compared > 200);
}

TEST_CASE("a lone square of pixels") {
  const MaskPicture picture = pictureOfMask(20, 20, [](int x, int y) { return x / 4 == 2 && y / 4 == 2; });
  const GapsOfShot found = findGaps(picture.buffer, picture.panels, picture.camera, testing::allThreads());
  REQUIRE(found.gaps.size() == 1);
  const Gap& gap = found.gaps.front();
  CHECK(gap.pixels == 16);
  CHECK(gap.area_mm2 == doctest::Approx(16).epsilon(1e-9));
  CHECK(gap.width_mm == doctest::Approx(4).epsilon(0.02));
  CHECK(gap.length_mm == doctest::Approx(4 * std::sqrt(2.0)));
  CHECK(gap.centre_mm.x == doctest::Approx(5e5));
  CHECK(gap.centre_mm.y == doctest::Approx(5e5));
  CHECK(gap.number == 1);
}

TEST_CASE("fewer than four pixels, or less than a millimetre, are specks") {
  // A pixel is 1 mm; three pixels in a row, two at a corner; and a square of four.
  const auto is_set = [](int x, int y) {
    return (y == 2 && x >= 2 && x < 5) || (x == 8 && y == 8) || (x == 9 && y == 9) ||
           (x >= 14 && x < 16 && y >= 14 && y < 16);
  };
  const MaskPicture picture = pictureOfMask(20, 20, is_set);
  const GapsOfShot found = findGaps(picture.buffer, picture.panels, picture.camera, testing::allThreads());
  CHECK(found.gaps.size() == 1);
  CHECK(found.specks.count == 2);
  CHECK(found.specks.area_mm2 == doctest::Approx(5));
  // At 0.2 mm a pixel a strip of 4 pixels is 0.8 wide, one of 6 is 1.2.
  const Camera fine = headOnCamera(middle, 0.2, 600, 400);
  const auto strip = [&](double width) {
    return findGaps(pictureOf(wide_panel, fine, rectangle(middle, 50, width, 0)), wide_panel, fine,
                    testing::allThreads());
  };
  CHECK(strip(0.8).gaps.empty());
  CHECK(strip(0.8).specks.count == 1);
  CHECK(strip(0.8).specks.area_mm2 == doctest::Approx(50 * 0.8));
  CHECK(strip(1.2).gaps.size() == 1);
}
