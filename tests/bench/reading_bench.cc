#include "tests/bench/reading_bench.h"

#include "engine/check/shot_checker.h"
#include "engine/plan/read_plan.h"
#include "tests/bench/pairs.h"

#include <fmt/format.h>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>

#include <algorithm>

namespace petalproof::bench {
namespace {

// Taps both ways from the middle one, as OpenCV takes them.
cv::Mat wholeKernel(const EyeGaussian& gaussian) {
  const auto reach = static_cast<int>(gaussian.taps.size()) - 1;
  cv::Mat kernel(1, 2 * reach + 1, CV_32F);
  for (int k = -reach; k <= reach; ++k)
    kernel.at<float>(0, k + reach) = gaussian.taps[static_cast<std::size_t>(std::abs(k))];
  return kernel;
}

// One picture's three planes through every Gaussian of their kernels.
void filterByOpenCv(const std::array<cv::Mat, 3>& planes, const EyeKernels& kernels, cv::Mat& one,
                    std::array<cv::Mat, 3>& seen) {
  for (std::size_t p = 0; p < 3; ++p) {
    seen[p] = cv::Mat::zeros(planes[p].size(), CV_32F);
    for (const EyeGaussian& gaussian : kernels.planes[p]) {
      const cv::Mat kernel = wholeKernel(gaussian);
      cv::sepFilter2D(planes[p], one, CV_32F, kernel, kernel, cv::Point(-1, -1), 0, cv::BORDER_REPLICATE);
      cv::scaleAdd(one, static_cast<double>(gaussian.weight), seen[p], seen[p]);
    }
  }
}

std::array<cv::Mat, 3> noise(const WorkingSize& size) {
  std::array<cv::Mat, 3> planes;
  cv::RNG random(7);
  for (cv::Mat& plane : planes) {
    plane.create(size.height_px, size.width_px, CV_32F);
    random.fill(plane, cv::RNG::UNIFORM, 0.0, 1.0);
  }
  return planes;
}

}  // namespace

int timeReading(const std::string& name, int pairs) {
  const Result<LoadedPlan> loaded = loadPlan(PETALPROOF_SOURCE_DIR "/assets/plans/demo.toml");
  if (!loaded) return 1;
  const Result<Scene> scene = buildScene(*loaded.value);
  const auto& shots = loaded.value->plan.shots;
  const auto shot = std::find_if(shots.begin(), shots.end(), [&](const Shot& s) { return s.name == name; });
  if (!scene || shot == shots.end()) return 1;

  ShotChecker checker(*loaded.value, *scene.value);
  ShotCheck done;
  const double first_ms = milliseconds([&] { done = *checker.check(*shot).value; });
  const WorkingSize size = workingSizeOf(done.camera, done.viewing);
  const EyeKernels kernels = eyeKernels(size.pixels_per_degree);
  const std::array<cv::Mat, 3> planes = noise(size);
  cv::Mat room;
  std::array<cv::Mat, 3> seen;
  const Pairs times = timed(
      pairs, [&] { done = *checker.check(*shot).value; },
      [&] {
        filterByOpenCv(planes, kernels, room, seen);
        filterByOpenCv(planes, kernels, room, seen);
      });
  fmt::print("{}: {} x {} px, looked at as {} x {}, {} gaps\n", name, done.camera.width_px,
             done.camera.height_px, size.width_px, size.height_px, done.found.gaps.size());
  fmt::print(
      "  seen, painted and read {:.0f} ms (the first time, with the wall's light, {:.0f} ms); OpenCV's "
      "filters alone, two whole pictures, {:.0f} ms: {:.2f} times ours\n",
      median(times.ours), first_ms, median(times.theirs), times.ratio());
  return 0;
}

}  // namespace petalproof::bench
