#include "engine/hands/internal/for_hands.h"

#include "engine/base/units.h"
#include "engine/camera/projection.h"
#include "engine/candidates/must_hide.h"
#include "engine/candidates/pixels_of_gap.h"
#include "engine/gaps/components.h"
#include "engine/hands/internal/hand_demands.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

namespace petalproof::hands {
namespace {

// How far apart places of a gap are that must be hidden: half of its width, within these limits.
constexpr double least_apart_mm = 5;
constexpr double most_apart_mm = 24;
constexpr int builds_to_report = 200;
constexpr std::uint64_t first_to_report =
    1'000'000;  // number of the first; training builds have lower numbers
// How much stricter than its guess LostStrips is: of 2000 gaps of builds that were read in full, it then took
// 1 in 100 or fewer gaps that read for lost.
constexpr double doubt = 1.5;
constexpr double stays_mm = 60;  // hands shift a gap no farther

check::BuildOptions optionsOf(const HandsTask& task, Closeness closeness) {
  check::BuildOptions options;
  if (closeness == Closeness::asDelivered) options.megapixels = 0;
  options.seed = task.seed;
  options.at_most = candidates::mostLeft(task.hide);
  options.stop = task.stop;
  return options;
}

// Whether the pixels `reach` away, and half as far, belong to the gap too, in sixteen directions.
bool isWithin(const candidates::PixelsOfGap& gap, int x, int y, int reach) {
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
std::vector<glm::ivec2> innerPixels(const gaps::Gap& gap, int reach, int step) {
  std::vector<glm::ivec2> pixels;
  const candidates::PixelsOfGap of_gap(gap);
  for (const gaps::Run& run : gap.runs) {
    if (run.row % step != 0) continue;
    for (int x = (run.begin + step - 1) / step * step; x < run.end; x += step)
      if (isWithin(of_gap, x, run.row, reach)) pixels.emplace_back(x, run.row);
  }
  return pixels;
}

// Places of a gap without a strip along its rim. Where no place would be left, the strip is narrowed and
// places are taken closer together.
std::vector<glm::dvec2> middleOf(const gaps::Gap& gap, const camera::Camera& camera, double rim_mm) {
  const double pixel_mm =
      std::sqrt(gap.area_mm2 / static_cast<double>(std::max<std::int64_t>(1, gap.pixels)));
  int reach = static_cast<int>(std::min(rim_mm, candidates::widest_rim_share * gap.width_mm) / pixel_mm);
  const double apart_mm = std::clamp(gap.width_mm / 2, least_apart_mm, most_apart_mm);
  int step = std::max(1, static_cast<int>(apart_mm / pixel_mm));
  std::vector<glm::ivec2> pixels = innerPixels(gap, reach, step);
  while (pixels.empty() && (step > 1 || reach > 0)) {
    step = std::max(1, step / 2);
    reach /= 2;
    pixels = innerPixels(gap, reach, step);
  }
  std::vector<glm::dvec2> places;
  for (const glm::ivec2& pixel : pixels)
    if (const auto place = camera::boardPointOf(camera, {{pixel.x + 0.5, pixel.y + 0.5}}))
      places.push_back(place->mm);
  return places;
}

}  // namespace

HandsTraining::HandsTraining(const HandsTask& task)
    : task_(task), lost_(task.shots, candidates::mostLeft(task.hide), task.base.plan.reading, doubt) {}

HandsTraining::Looked HandsTraining::look(const scene::Scene& filled, int builds, Closeness closeness,
                                          double looser) {
  std::vector<scene::HandBuild>& fresh = builds_.emplace_back();
  const scene::HandErrors errors = scene::times(task_.errors, looser);
  for (int k = 0; k < builds; ++k) fresh.emplace_back(task_.scene, errors, task_.seed, tried_++);
  const check::BuildOptions options = optionsOf(task_, closeness);
  const std::vector<check::GapsOfBuild> found =
      check::BuildLook(task_.base.plan, filled, task_.shots, lost_, task_.workers, options).look(fresh);
  Looked looked{{fresh}, {}};
  for (std::uint64_t time = 1; time < times_hung; ++time) {
    std::vector<scene::HandBuild>& again = builds_.emplace_back();
    for (const scene::HandBuild& build : fresh) again.push_back(build.withFillersHungAgain(time));
    looked.hung.emplace_back(again);
  }
  for (std::size_t build = 0; build < found.size(); ++build)
    for (std::size_t shot = 0; shot < found[build].size(); ++shot) {
      const camera::Camera camera = check::BuildLook::cameraOf(task_.shots[shot], options);
      for (const gaps::Gap& gap : found[build][shot])
        looked.gaps.push_back(
            {build, shot, gap.centre_mm, middleOf(gap, camera, lost_.mayStay_mm(shot, gap))});
    }
  return looked;
}

bool staysNear(const std::vector<glm::dvec2>& stays, glm::dvec2 centre_mm) {
  return std::any_of(stays.begin(), stays.end(),
                     [&](const glm::dvec2& place) { return glm::distance(place, centre_mm) < stays_mm; });
}

fill::HandsReport reportOnHands(const HandsTask& task, const scene::Scene& filled,
                                const fill::CleanWalls& asked, const std::vector<glm::dvec2>& stays) {
  check::BuildOptions options = optionsOf(task, Closeness::asDelivered);
  options.builds = builds_to_report;
  options.first = first_to_report;
  fill::HandsReport report;
  std::int64_t gaps = 0;
  const check::LostStrips lost(task.shots, options.at_most, task.base.plan.reading, doubt);
  const check::BuildLook look(task.base.plan, filled, task.shots, lost, task.workers, options);
  check::forEachBuild(look, filled, task.errors, options, [&](const check::GapsOfBuild& found) {
    ++report.builds;
    report.clean += check::isClean(found) ? 1 : 0;
    bool but_left = true;
    for (const auto& of_shot : found)
      for (const gaps::Gap& gap : of_shot) {
        ++gaps;
        but_left = but_left && staysNear(stays, gap.centre_mm);
      }
    report.clean_but_left += but_left ? 1 : 0;
  });
  report.asked = asked;
  report.gaps_each = report.builds == 0 ? 0 : static_cast<double>(gaps) / report.builds;
  report.at_least = check::atLeastClean(report.clean, report.builds, report.confidence);
  return report;
}

}  // namespace petalproof::hands
