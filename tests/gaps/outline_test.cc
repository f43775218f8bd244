#include "engine/gaps/internal/outline.h"
#include "engine/camera/projection.h"

#include "tests/gaps/synthetic.h"
#include "tests/support/pool.h"

#include <doctest/doctest.h>

#include <glm/geometric.hpp>
#include <opencv2/imgproc.hpp>

#include <algorithm>
#include <limits>
#include <vector>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::camera;
using namespace petalproof::visibility;
using namespace petalproof::gaps;

namespace {

double cross(glm::dvec2 a, glm::dvec2 b) { return a.x * b.y - a.y * b.x; }

double distanceToLine(const std::vector<glm::dvec2>& closed, glm::dvec2 p) {
  double nearest = std::numeric_limits<double>::infinity();
  for (std::size_t k = 0; k + 1 < closed.size(); ++k) {
    const glm::dvec2 along = closed[k + 1] - closed[k];
    const double share = std::clamp(glm::dot(p - closed[k], along) / glm::dot(along, along), 0.0, 1.0);
    nearest = std::min(nearest, glm::distance(p, closed[k] + share * along));
  }
  return nearest;
}

// The largest distance of points along one closed line from the other.
double farthestFrom(const std::vector<glm::dvec2>& other, const std::vector<glm::dvec2>& closed) {
  double farthest = 0;
  for (std::size_t k = 0; k + 1 < closed.size(); ++k)
    for (int step = 0; step < 8; ++step)
      farthest = std::max(farthest, distanceToLine(other, glm::mix(closed[k], closed[k + 1], step / 8.0)));
  return farthest;
}

double signedArea(const std::vector<glm::dvec2>& closed) {
  double area2 = 0;
  for (std::size_t k = 0; k + 1 < closed.size(); ++k) area2 += cross(closed[k], closed[k + 1]);
  return area2 / 2;
}

// Slow and obvious: whether two sides run through each other.
bool crossesItself(const std::vector<glm::dvec2>& closed) {
  const auto side = [](glm::dvec2 a, glm::dvec2 b, glm::dvec2 p) { return cross(b - a, p - a); };
  for (std::size_t i = 0; i + 1 < closed.size(); ++i)
    for (std::size_t j = i + 1; j + 1 < closed.size(); ++j)
      if (side(closed[i], closed[i + 1], closed[j]) * side(closed[i], closed[i + 1], closed[j + 1]) < 0 &&
          side(closed[j], closed[j + 1], closed[i]) * side(closed[j], closed[j + 1], closed[i + 1]) < 0)
        return true;
  return false;
}

cv::Mat1b blobs(Random& random, int size) {
  cv::Mat1b coarse(14, 14);
  for (auto& value : coarse) value = static_cast<std::uint8_t>(random.whole(0, 255));
  cv::Mat1b smooth;
  cv::resize(coarse, smooth, cv::Size(size, size), 0, 0, cv::INTER_CUBIC);
  cv::Mat1b mask;
  cv::compare(smooth, random.whole(80, 160), mask, cv::CMP_LT);
  for (int k = 0; k < 200; ++k) mask(random.whole(0, size - 1), random.whole(0, size - 1)) ^= 255;
  return mask;
}

// Pixels of a component and of what it encloses: all that 4-connected outside doesn't reach.
int filledPixels(const std::vector<Run>& runs, int size) {
  cv::Mat1b picture(size + 2, size + 2, std::uint8_t{0});
  for (const Run& run : runs)
    for (int x = run.begin; x < run.end; ++x) picture(run.row + 1, x + 1) = 255;
  cv::floodFill(picture, {0, 0}, 128, nullptr, 0, 0, 4);
  return (size + 2) * (size + 2) - cv::countNonZero(picture == 128);
}

std::vector<glm::dvec2> closedBorder(const std::vector<Run>& runs, const Camera& camera) {
  PixelRegion region;
  region.assign(runs);
  std::vector<glm::ivec2> corners;
  collectOuterBorder(region, corners);
  std::vector<glm::dvec2> border;
  for (const glm::ivec2& corner : corners) border.push_back(boardPointOf(camera, {corner})->mm);
  border.push_back(border.front());
  return border;
}

}  // namespace

TEST_CASE("a rectangle's outline is its four corners, anticlockwise, the first repeated") {
  const MaskPicture picture =
      pictureOfMask(40, 40, [](int x, int y) { return x >= 10 && x < 30 && y >= 15 && y < 22; });
  const auto outline =
      findGaps(picture.buffer, picture.panels, picture.camera, testing::allThreads()).gaps.at(0).outline_mm;
  REQUIRE(outline.size() == 5);
  CHECK(outline.front() == outline.back());
  CHECK(signedArea(outline) == doctest::Approx(20 * 7));
  for (const glm::dvec2& corner : outline) {
    CHECK(std::abs(std::abs(corner.x - 5e5) - 10) < 1e-6);
    CHECK((std::abs(corner.y - (5e5 + 5)) < 1e-6 || std::abs(corner.y - (5e5 - 2)) < 1e-6));
  }
}

TEST_CASE("pixels that meet at a corner share one outline that touches itself") {
  const MaskPicture picture = pictureOfMask(
      20, 20, [](int x, int y) { return (x / 5 == 1 && y / 5 == 1) || (x / 5 == 2 && y / 5 == 2); });
  const auto found = findGaps(picture.buffer, picture.panels, picture.camera, testing::allThreads());
  REQUIRE(found.gaps.size() == 1);
  CHECK(signedArea(found.gaps[0].outline_mm) == doctest::Approx(50));
  CHECK_FALSE(crossesItself(found.gaps[0].outline_mm));
}

TEST_CASE("the border of a region encloses it and what it encloses") {
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    Random random(seed);
    const int size = 90;
    const cv::Mat1b mask = blobs(random, size);
    const MaskPicture picture = pictureOfMask(size, size, [&](int x, int y) { return mask(y, x) != 0; });
    for (const Gap& gap :
         findGaps(picture.buffer, picture.panels, picture.camera, testing::allThreads()).gaps)
      CHECK(-signedArea(closedBorder(gap.runs, picture.camera)) ==
            doctest::Approx(filledPixels(gap.runs, size)));
  }
}

TEST_CASE("outlines follow their pixels closely and don't cross themselves") {
  const PanelGrid panel = gridOf(1, 1, 1000, 800, 0);
  // From the front with fine pixels, with coarse ones, and from the side.
  const Camera cameras[] = {headOnCamera({500, 400}, 0.2, 200, 200), headOnCamera({500, 400}, 1.7, 200, 200),
                            cameraAt(panel, {1900, 600, 700}, {500, 400}, 85, 0.06)};
  std::size_t outlines = 0;
  for (const Camera& camera : cameras)
    for (std::uint64_t seed = 1; seed <= 15; ++seed) {
      CAPTURE(seed);
      CAPTURE(camera.position.mm.x);
      Random random(seed);
      const int size = std::min(camera.width_px, camera.height_px);
      const cv::Mat1b mask = blobs(random, size);
      VisibilityBuffer buffer;
      buffer.width_px = camera.width_px;
      buffer.height_px = camera.height_px;
      for (int y = 0; y < camera.height_px; ++y)
        for (int x = 0; x < camera.width_px; ++x)
          buffer.ids.push_back(x < size && y < size && mask(y, x) != 0 ? PixelId(Sees::board, 0)
                                                                       : PixelId(Sees::bloom, 0));
      for (const Gap& gap : findGaps(buffer, panel, camera, testing::allThreads()).gaps) {
        const auto border = closedBorder(gap.runs, camera);
        const double allowed = std::max(0.5, largestFootprint(camera, gap.centre_mm));
        CHECK(gap.outline_mm.front() == gap.outline_mm.back());
        CHECK(gap.outline_mm.size() <= border.size());
        CHECK(signedArea(gap.outline_mm) > 0);
        CHECK(farthestFrom(border, gap.outline_mm) <= allowed);
        CHECK(farthestFrom(gap.outline_mm, border) <= allowed);
        CHECK_FALSE(crossesItself(gap.outline_mm));
        ++outlines;
      }
    }
  CHECK(outlines > 300);
}
