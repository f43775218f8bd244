#include "engine/filler/internal/for_hands.h"

#include "engine/check/preview_check.h"
#include "engine/filler/internal/pixels_of_gap.h"
#include "engine/gaps/components.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace petalproof {
namespace {

constexpr double look_apart_mm = 4;
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

// Places of a gap but for a strip along its rim, so far apart or, where none would be left, nearer.
std::vector<glm::dvec2> middleOf(const Gap& gap, const Camera& camera, double rim_mm) {
  const double pixel_mm =
      std::sqrt(gap.area_mm2 / static_cast<double>(std::max<std::int64_t>(1, gap.pixels)));
  int reach = static_cast<int>(std::min(rim_mm, widest_rim_share * gap.width_mm) / pixel_mm);
  int step = std::max(1, static_cast<int>(look_apart_mm / pixel_mm));
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

HandsTraining::HandsTraining(const HandsTask& task)
    : task_(task), lost_(task.shots, mostLeft(task.hide), task.plan.reading) {}

std::vector<GapsOfBuild> HandsTraining::look(const Scene& scene, int builds) {
  std::vector<HandBuild>& fresh = builds_.emplace_back();
  for (int k = 0; k < builds; ++k) fresh.emplace_back(task_.scene, task_.errors, task_.seed, tried_++);
  const BuildOptions options = optionsOf(task_);
  return BuildLook(task_.plan, scene, task_.shots, lost_, options).look(fresh);
}

std::vector<glm::dvec2> HandsTraining::placesOf(std::size_t shot, const Gap& gap) const {
  const Camera camera = atPreviewSize(task_.shots[shot].camera, optionsOf(task_).megapixels);
  return middleOf(gap, camera, lost_.mayStay_mm(shot, gap));
}

MustHide HandsTraining::everBare(const Scene& scene, int builds, const PlaceGrid& grid) {
  const std::vector<GapsOfBuild> found = look(scene, builds);
  MustHide all;
  for (std::size_t shot = 0; shot < task_.shots.size(); ++shot) {
    Eye& eye = all.eyes[eyeOf(all, task_.shots[shot].camera.position.mm, nullptr)];
    if (eye.places.bits.empty()) eye.places = PlaceBits(0, 0, grid.x.count(), grid.y.count());
    for (const GapsOfBuild& build : found) {
      if (build.empty()) continue;  // cancelled
      for (const Gap& gap : build[shot])
        for (const glm::dvec2& place : placesOf(shot, gap))
          eye.places.set(std::min(grid.x.firstFrom(place.x), grid.x.count() - 1),
                         std::min(grid.y.firstFrom(place.y), grid.y.count() - 1));
    }
  }
  return all;
}

int HandsTraining::countClean(const Scene& scene, int builds) {
  const std::vector<GapsOfBuild> found = look(scene, builds);
  return static_cast<int>(std::count_if(found.begin(), found.end(), isClean));
}

int HandsTraining::tryMore(const Scene& scene, int builds, MustHide& all) {
  const std::vector<GapsOfBuild> found = look(scene, builds);
  for (std::size_t build = 0; build < found.size(); ++build)
    for (std::size_t shot = 0; shot < found[build].size(); ++shot) {
      if (found[build][shot].empty()) continue;
      Eye& eye = all.eyes[eyeOf(all, task_.shots[shot].camera.position.mm, &builds_.back()[build])];
      for (const Gap& gap : found[build][shot])
        for (const glm::dvec2& place : placesOf(shot, gap)) eye.others.push_back(place);
    }
  return static_cast<int>(std::count_if(found.begin(), found.end(), isClean));
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

std::optional<std::string> whyNotClean(const HandsReport& report, const SearchTask& task,
                                       const std::vector<int>& wanted) {
  if (report.builds == 0 || report.clean * report.asked.of >= report.builds * report.asked.clean)
    return std::nullopt;
  const std::string asked = fmt::format("{} walls in {} were to be clean; they aren't, because ",
                                        report.asked.clean, report.asked.of);
  std::string more;
  for (std::size_t kind = 0; kind < wanted.size(); ++kind) {
    const Bloom& bloom = task.plan.blooms[static_cast<std::size_t>(task.maker.kinds()[kind].kind)];
    if (wanted[kind] > 0 && bloom.stock)
      more += fmt::format("{}{} more of {}", more.empty() ? "" : " and ", wanted[kind], bloom.name);
  }
  if (more.empty()) return asked + "no more fillers fit beside the blooms where such hands leave gaps";
  return asked + fmt::format("the stock is used up: {} would hide more of what such hands leave bare", more);
}

}  // namespace petalproof
