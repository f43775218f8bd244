#include "engine/filler/internal/for_hands.h"

#include "engine/base/threads.h"
#include "engine/check/preview_check.h"
#include "engine/filler/internal/pixels_of_gap.h"
#include "engine/gaps/components.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

namespace petalproof {
namespace {

constexpr int builds_to_report = 200;
constexpr std::uint64_t first_to_report = 1'000'000;  // none of those that fillers are found for

BuildOptions optionsOf(const HandsTask& task) {
  BuildOptions options;
  options.seed = task.seed;
  options.at_most = mostLeft(task.hide);
  options.threads = task.threads;
  options.cancelled = task.cancelled;
  return options;
}

// Whether what is so many pixels away, and half as many, is of the gap too, looked at in sixteen directions.
bool isWithin(const PixelsOfGap& gap, int x, int y, int reach) {
  constexpr int directions = 16;
  for (const double far : {0.5 * reach, 1.0 * reach})
    for (int k = 0; k < directions; ++k) {
      const double a = 2 * pi * k / directions;
      if (!gap.has(x + static_cast<int>(std::lround(far * std::cos(a))),
                   y + static_cast<int>(std::lround(far * std::sin(a)))))
        return false;
    }
  return true;
}

// Pixels of a gap that are farther than `reach` from its rim, thinned to a grid of `step` pixels.
std::vector<glm::ivec2> innerPixels(const Gap& gap, int reach, int step) {
  std::vector<glm::ivec2> pixels;
  const PixelsOfGap all(gap);
  for (const Run& run : gap.runs) {
    if (run.row % step != 0) continue;
    for (int x = (run.begin + step - 1) / step * step; x < run.end; x += step)
      if (isWithin(all, x, run.row, reach)) pixels.emplace_back(x, run.row);
  }
  return pixels;
}

// Places in the middle of a gap, so far apart or, where none would be left, nearer.
std::vector<glm::dvec2> middleOf(const Gap& gap, const Camera& camera, double apart_mm) {
  const double pixel_mm =
      std::sqrt(gap.area_mm2 / static_cast<double>(std::max<std::int64_t>(1, gap.pixels)));
  int reach = static_cast<int>(widest_rim_share * gap.width_mm / pixel_mm);
  int step = std::max(1, static_cast<int>(apart_mm / pixel_mm));
  std::vector<glm::ivec2> pixels = innerPixels(gap, reach, step);
  while (pixels.empty() && (step > 1 || reach > 0)) {
    step = std::max(1, step / 2);
    reach /= 2;
    pixels = innerPixels(gap, reach, step);
  }
  std::vector<glm::dvec2> places;
  for (const glm::ivec2& pixel : pixels)
    if (const auto place = boardPointOf(camera, {{pixel.x + 0.5, pixel.y + 0.5}}))
      places.push_back(place->mm);
  return places;
}

std::size_t eyeOf(MustHide& all, const glm::dvec3& at, const HandBuild* build) {
  for (std::size_t k = 0; k < all.eyes.size(); ++k)
    if (all.eyes[k].at == at && all.eyes[k].build == build) return k;
  Eye eye;
  eye.at = at;
  eye.build = build;
  all.eyes.push_back(std::move(eye));
  return all.eyes.size() - 1;
}

}  // namespace

HandsTraining::HandsTraining(const HandsTask& task, int builds) : task_(task) {
  for (int k = 0; k < builds; ++k)
    builds_.emplace_back(task_.scene, task_.errors, task_.seed, static_cast<std::uint64_t>(k));
}

void HandsTraining::addTo(MustHide& all, Eye seen_by, const std::vector<Gap>& gaps, const Camera& camera,
                          double apart_mm) {
  if (gaps.empty()) return;
  Eye& eye = all.eyes[eyeOf(all, seen_by.at, seen_by.build)];
  for (const Gap& gap : gaps)
    for (const glm::dvec2& place : middleOf(gap, camera, apart_mm))
      if (std::none_of(eye.others.begin(), eye.others.end(),
                       [&](glm::dvec2 other) { return glm::length(other - place) < apart_mm / 2; }))
        eye.others.push_back(place);
}

int HandsTraining::extend(const Scene& scene, const Look& look, MustHide& all) {
  const BuildOptions options = optionsOf(task_);
  const BuildLookInputs inputs{task_.plan, scene, task_.shots, options};
  std::vector<std::vector<std::vector<Gap>>> found(
      std::min(builds_.size(), static_cast<std::size_t>(look.builds)));
  Workers workers(task_.threads);
  workers.run([&] {
    forEachWith<BuildLook>(found.size(), inputs, [&](std::size_t k, BuildLook& helper) {
      if (!task_.cancelled || !task_.cancelled()) found[k] = helper.look(builds_[k]);
    });
  });
  int clean = 0;
  for (std::size_t build = 0; build < found.size(); ++build) {
    clean += std::all_of(found[build].begin(), found[build].end(),
                         [](const std::vector<Gap>& gaps) { return gaps.empty(); })
                 ? 1
                 : 0;
    for (std::size_t shot = 0; shot < found[build].size(); ++shot)
      addTo(all, {task_.shots[shot].camera.position.mm, &builds_[build], {}, {}}, found[build][shot],
            atPreviewSize(task_.shots[shot].camera, options.megapixels), look.apart_mm);
  }
  return clean;
}

HandsReport reportOnHands(const HandsTask& task, const Scene& filled, const CleanWalls& asked) {
  BuildOptions options = optionsOf(task);
  options.builds = builds_to_report;
  options.first = first_to_report;
  const BuildsCheck check = checkBuilds(task.plan, filled, task.shots, task.errors, options);
  HandsReport report;
  report.asked = asked;
  report.builds = check.builds;
  report.clean = check.clean;
  report.at_least = atLeastClean(check.clean, check.builds, report.confidence);
  return report;
}

}  // namespace petalproof
