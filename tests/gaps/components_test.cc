#include "engine/gaps/components.h"

#include "tests/gaps/synthetic.h"

#include <doctest/doctest.h>

#include <opencv2/imgproc.hpp>

#include <vector>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::gaps;

namespace {

std::vector<Run> runsOf(const cv::Mat1b& labels) {
  std::vector<Run> runs;
  for (int y = 0; y < labels.rows; ++y)
    for (int x = 0; x < labels.cols;) {
      const int begin = x;
      while (x < labels.cols && labels(y, x) == labels(y, begin)) ++x;
      if (labels(y, begin) != 0) runs.push_back({y, begin, x, labels(y, begin)});
    }
  return runs;
}

// Blobs at several scales: thresholded sums of coarse noise.
cv::Mat1b randomMask(Random& random, int width, int height, int coarseness, double share) {
  cv::Mat1b coarse(height / coarseness + 1, width / coarseness + 1);
  for (auto& value : coarse) value = static_cast<std::uint8_t>(random.whole(0, 255));
  cv::Mat1b smooth;
  cv::resize(coarse, smooth, cv::Size(width, height), 0, 0,
             coarseness > 1 ? cv::INTER_CUBIC : cv::INTER_NEAREST);
  cv::Mat1b mask;
  cv::compare(smooth, 255 * share, mask, cv::CMP_LT);
  return mask;
}

// Each component's bounding box, pixel count and pixels, against OpenCV's label image.
void checkAgainstOpenCv(const cv::Mat1b& mask) {
  cv::Mat1i labels;
  cv::Mat1i stats;
  cv::Mat1d centroids;
  const int count = cv::connectedComponentsWithStats(mask, labels, stats, centroids, 8, CV_32S);
  const std::vector<Component> components = connectedComponents(runsOf(mask));
  REQUIRE(components.size() == static_cast<std::size_t>(count - 1));  // theirs counts the background
  std::pair<int, int> last_first(-1, -1);
  for (const Component& component : components) {
    const Run& first = component.runs.front();
    CHECK(std::pair(first.row, first.begin) > last_first);
    last_first = {first.row, first.begin};
    const int label = labels(first.row, first.begin);
    CHECK(component.pixels == stats(label, cv::CC_STAT_AREA));
    CHECK(first.row == stats(label, cv::CC_STAT_TOP));
    for (const Run& run : component.runs)
      for (int x = run.begin; x < run.end; ++x) REQUIRE(labels(run.row, x) == label);
  }
}

}  // namespace

TEST_CASE("components of random masks are OpenCV's") {
  for (std::uint64_t seed = 1; seed <= 120; ++seed) {
    CAPTURE(seed);
    Random random(seed);
    const int width = random.whole(1, 300);
    const int height = random.whole(1, 300);
    checkAgainstOpenCv(randomMask(random, width, height, random.whole(1, 12), random.between(0.02, 0.98)));
  }
}

TEST_CASE("rectangle, lone pixel and disc as OpenCV counts them") {
  // Output of OpenCV 4.6: 3 labels with the background for 8 neighbours, areas 221 and 441. A disc of radius
  // 12 has 441 pixels, not 452.
  cv::Mat1b mask(60, 80, std::uint8_t{0});
  cv::rectangle(mask, cv::Rect(5, 5, 20, 11), 255, cv::FILLED);
  cv::circle(mask, {55, 30}, 12, 255, cv::FILLED);
  mask(16, 25) = 255;  // touches the rectangle at a corner
  const auto components = connectedComponents(runsOf(mask));
  REQUIRE(components.size() == 2);
  CHECK(components[0].pixels == 221);
  CHECK(components[1].pixels == 441);
}

TEST_CASE("touching pixels of other labels are apart, also where they cross at a corner") {
  const cv::Mat1b labels = (cv::Mat1b(4, 4) << 1, 2, 2, 0,  //
                            2, 1, 0, 2,                     //
                            0, 0, 1, 0,                     //
                            3, 3, 3, 1);
  const auto components = connectedComponents(runsOf(labels));
  REQUIRE(components.size() == 3);
  CHECK(components[0].label == 1);
  CHECK(components[0].pixels == 4);
  CHECK(components[1].label == 2);
  CHECK(components[1].pixels == 4);
  CHECK(components[2].label == 3);
  CHECK(components[2].pixels == 3);
}

TEST_CASE("shapes that join only at their last row are one") {
  // A comb, and a spiral of runs that meet late.
  const cv::Mat1b comb = (cv::Mat1b(3, 7) << 1, 0, 1, 0, 1, 0, 1,  //
                          1, 0, 1, 0, 1, 0, 1,                     //
                          1, 1, 1, 1, 1, 1, 1);
  CHECK(connectedComponents(runsOf(comb)).size() == 1);
  CHECK(connectedComponents(runsOf(comb)).front().runs.size() == 9);
}

TEST_CASE("rows without runs keep what is above and below apart") {
  CHECK(connectedComponents({{0, 0, 5, 1}, {2, 0, 5, 1}}).size() == 2);
  CHECK(connectedComponents({{0, 0, 5, 1}, {1, 5, 6, 1}}).size() == 1);  // by a corner
  CHECK(connectedComponents({{0, 0, 5, 1}, {1, 6, 7, 1}}).size() == 2);
  CHECK(connectedComponents({}).empty());
}
