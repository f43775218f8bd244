#include "tests/bench/reading_bench.h"

#include "engine/check/shot_checker.h"
#include "engine/plan/read_plan.h"
#include "engine/reading/scielab.h"
#include "tests/bench/pairs.h"

#include <fmt/format.h>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>

#include <algorithm>

namespace petalproof::bench {
namespace {

// Taps both ways from the middle one, as OpenCV takes them.
cv::Mat wholeKernel(const reading::EyeGaussian& gaussian) {
  const auto reach = static_cast<int>(gaussian.taps.size()) - 1;
  cv::Mat kernel(1, 2 * reach + 1, CV_32F);
  for (int k = -reach; k <= reach; ++k)
    kernel.at<float>(0, k + reach) = gaussian.taps[static_cast<std::size_t>(std::abs(k))];
  return kernel;
}

// Both pictures that a reading compares, three planes each, through every Gaussian of their kernels.
class OpenCvFilters {
 public:
  OpenCvFilters(const reading::EyeKernels& kernels, int width_px, int height_px) : kernels_(kernels) {
    cv::RNG random(7);
    for (std::size_t p = 0; p < 3; ++p) {
      planes_[p].create(height_px, width_px, CV_32F);
      random.fill(planes_[p], cv::RNG::UNIFORM, 0.0, 1.0);
      seen_[p].create(height_px, width_px, CV_32F);
    }
  }

  void filterTwoPictures() {
    filter();
    filter();
  }

 private:
  void filter() {
    for (std::size_t p = 0; p < 3; ++p) {
      seen_[p] = 0.0;
      for (const reading::EyeGaussian& gaussian : kernels_.planes[p]) {
        const cv::Mat kernel = wholeKernel(gaussian);
        cv::sepFilter2D(planes_[p], one_, CV_32F, kernel, kernel, cv::Point(-1, -1), 0, cv::BORDER_REPLICATE);
        cv::scaleAdd(one_, static_cast<double>(gaussian.weight), seen_[p], seen_[p]);
      }
    }
  }

  const reading::EyeKernels& kernels_;
  std::array<cv::Mat, 3> planes_;
  std::array<cv::Mat, 3> seen_;
  cv::Mat one_;
};

}  // namespace

int timeReading(const std::string& name, int pairs) {
  const Result<plan::LoadedPlan> loaded = plan::loadPlan(PETALPROOF_SOURCE_DIR "/assets/plans/demo.toml");
  if (!loaded) return 1;
  const Result<scene::Scene> scene = scene::buildScene(*loaded.value);
  const auto& shots = loaded.value->plan.shots;
  const auto shot =
      std::find_if(shots.begin(), shots.end(), [&](const plan::Shot& s) { return s.name == name; });
  if (!scene || shot == shots.end()) return 1;

  const Pool pool;
  check::ShotChecker checker(*loaded.value, *scene.value, pool);
  check::ShotCheck done;
  const double first_ms = milliseconds([&] { done = *checker.check(*shot).value; });
  const camera::WorkingSize size = camera::workingSizeOf(done.camera, done.viewing);
  const reading::EyeKernels kernels = reading::eyeKernels(size.pixels_per_degree);
  OpenCvFilters as_looked_at(kernels, size.width_px, size.height_px);
  OpenCvFilters as_delivered(kernels, done.camera.width_px, done.camera.height_px);
  const Pairs times = timed(
      pairs, [&] { done = *checker.check(*shot).value; }, [&] { as_looked_at.filterTwoPictures(); });
  const double whole_ms = milliseconds([&] { as_delivered.filterTwoPictures(); });
  fmt::print("{}: {} x {} px, looked at as {} x {}, {} holes\n", name, done.camera.width_px,
             done.camera.height_px, size.width_px, size.height_px, done.found.holes.size());
  fmt::print("  seen, painted and read {:.0f} ms; the first time, with the wall's light, {:.0f} ms\n",
             median(times.ours), first_ms);
  fmt::print(
      "  OpenCV's filters alone, two pictures as delivered {:.0f} ms: {:.2f} times ours; as looked at {:.0f} "
      "ms: {:.2f} times ours\n",
      whole_ms, whole_ms / median(times.ours), median(times.theirs), times.ratio());
  return 0;
}

}  // namespace petalproof::bench
