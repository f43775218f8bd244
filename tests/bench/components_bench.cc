#include "tests/bench/components_bench.h"

#include "engine/gaps/gaps.h"
#include "engine/gaps/internal/bare_runs.h"
#include "engine/gaps/internal/flat_components.h"
#include "tests/bench/pairs.h"

#include <fmt/format.h>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>

namespace petalproof::bench {
namespace {

// Owners are left out of it: a seam's gap and the board's beside it are one to OpenCV.
int countedByOpenCv(const visibility::VisibilityBuffer& buffer, const scene::PanelGrid& panels,
                    cv::Mat1b& mask) {
  mask.create(buffer.height_px, buffer.width_px);
  cv::parallel_for_(cv::Range(0, buffer.height_px), [&](const cv::Range& rows) {
    for (int y = rows.start; y < rows.end; ++y)
      for (int x = 0; x < buffer.width_px; ++x) mask(y, x) = gaps::isBare(buffer.id(x, y), panels) ? 255 : 0;
  });
  cv::Mat labels;
  cv::Mat stats;
  cv::Mat centres;
  return cv::connectedComponentsWithStats(mask, labels, stats, centres, 8, CV_32S) - 1;
}

}  // namespace

void timeComponents(const visibility::VisibilityBuffer& buffer, const scene::PanelGrid& panels,
                    const camera::Camera& camera, int pairs) {
  const Pool pool;
  cv::Mat1b mask;
  std::size_t ours = 0;
  int theirs = 0;
  const Pairs times = timed(
      pairs, [&] { ours = gaps::flatComponents(gaps::bareRuns(buffer, panels, camera, pool)).count(); },
      [&] { theirs = countedByOpenCv(buffer, panels, mask); });
  const double gaps = milliseconds([&] { gaps::findGaps(buffer, panels, camera, pool); });
  fmt::print("{} components {:.1f} ms, OpenCV {} in {:.1f} ms, {:.2f} x; gaps measured {:.1f} ms\n", ours,
             median(times.ours), theirs, median(times.theirs), times.ratio(), gaps);
}

}  // namespace petalproof::bench
