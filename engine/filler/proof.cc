#include "engine/filler/internal/proof.h"

#include "engine/base/threads.h"
#include "engine/filler/internal/why_left.h"
#include "engine/gaps/bare_board.h"
#include "engine/visibility/coverage_bits.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

namespace petalproof {
namespace {

std::vector<TriangleBatch> batchesOf(const FillerMaker& maker, std::span<const Candidate> chosen) {
  std::vector<TriangleBatch> batches;
  for (const Candidate& one : chosen) {
    const FillerMaker::Hung hung = maker.hang(one.kind, one.site.from_corner_mm, one.turn_deg);
    batches.push_back({hung.mesh->vertices, hung.mesh->triangles, hung.wallFromMesh, 1, false});
  }
  return batches;
}

}  // namespace

Result<CheckedPlan> checkPlan(const Filling& filling, LoadedPlan plan, const Scene& scene,
                              const HowToCheck& how, ShotChecker& checker) {
  const FillOptions& options = filling.options;
  MustHideCollector collector(filling.grid, options.hide, filling.base.plan.reading);
  CheckOptions check;
  check.shots = options.shots;
  check.threads = options.threads;
  check.readings = options.hide != Hide::all || options.readings;
  check.lighting = how.lighting;
  check.progress = how.progress;
  const bool keeps_bare = how.rim || options.hide == Hide::all;
  std::vector<PixelMask> bare;
  Workers workers(options.threads);
  check.on_shot = [&](const ShotCheck& shot, const VisibilityBuffer& seen) {
    PixelMask& mask = bare.emplace_back();
    if (keeps_bare) workers.run([&] { mask = bareMask(seen, scene.panels); });
    collector.add(shot, mask, how.rim);
  };
  Result<Check> done = runCheck(plan, scene, check, checker);
  if (!done) return Result<CheckedPlan>::failure(std::move(done.problems));
  return Result<CheckedPlan>::success(
      {std::move(plan), std::move(*done.value), collector.take(), std::move(bare)});
}

QuickLook::QuickLook(const Filling& filling, const std::vector<ShotCheck>& before,
                     const std::vector<PixelMask>& bare)
    : filling_(filling),
      before_(before),
      bare_(bare),
      lost_(before, mostLeft(filling.options.hide), filling.base.plan.reading) {}

MustHide QuickLook::see(std::span<const Candidate> chosen) const {
  const std::vector<TriangleBatch> batches = batchesOf(filling_.maker, chosen);
  std::vector<ShotCheck> seen(before_.size());
  std::vector<PixelMask> bare(before_.size());
  Workers workers(filling_.options.threads);
  workers.run([&] {
    forEach(before_.size(), [&](std::size_t k) {
      seen[k].shot = before_[k].shot;
      seen[k].camera = before_[k].camera;
      if (!CoverageRasteriser::holdsFor(seen[k].camera)) return;
      CoverageRasteriser(1).drawUncovered(batches, rasterViewOf(seen[k].camera), bare_[k], bare[k]);
      seen[k].found = findGaps(bare[k], filling_.scene.panels, seen[k].camera, GapMeasures::all);
      for (const Gap& gap : seen[k].found.gaps)
        seen[k].readings.emplace_back().reads = lost_.wouldBeNoticed(k, gap) ? Reads::shows : Reads::lost;
    });
  });
  MustHideCollector collector(filling_.grid, filling_.options.hide, filling_.base.plan.reading);
  for (std::size_t k = 0; k < seen.size(); ++k) collector.add(seen[k], bare[k], false);
  return collector.take();
}

std::vector<GapLeft> gapsLeft(const Check& after, Hide hide) {
  std::vector<GapLeft> left;
  for (const ShotCheck& shot : after.shots)
    for (std::size_t k = 0; k < shot.found.gaps.size(); ++k)
      if (hide == Hide::all || (k < shot.readings.size() && mustHide(hide, shot.readings[k].reads)))
        left.push_back({&shot, &shot.found.gaps[k]});
  return left;
}

glm::dvec2 placeIn(const Gap& gap, const Camera& camera) {
  const Run& run = gap.runs[gap.runs.size() / 2];
  const auto at = boardPointOf(camera, {{(run.begin + run.end) / 2.0, run.row + 0.5}});
  return at ? at->mm : gap.centre_mm;
}

std::vector<LeftGap> leftWithReasons(const SearchTask& task, const Check& after, Hide hide,
                                     const std::vector<Candidate>& chosen, const std::vector<int>& wanted) {
  const std::vector<GapLeft> gaps = gapsLeft(after, hide);
  std::vector<LeftGap> left(gaps.size());
  forEach(gaps.size(), [&](std::size_t k) {
    const auto& [shot, gap] = gaps[k];
    WhyLeft why = whyLeft(task, shot->camera.position.mm, placeIn(*gap, shot->camera), chosen, wanted);
    left[k] = {fmt::format("{}.{}", shot->shot.name, gap->number), std::move(why.words), why.by_plates};
  });
  return left;
}

GivenUp::GivenUp(const std::vector<glm::dvec2>& places) {
  for (const glm::dvec2& place : places) {
    const Block middle = blockOf(place);
    for (int row = -1; row <= 1; ++row)
      for (int column = -1; column <= 1; ++column)
        blocks_.emplace(middle.first + column, middle.second + row);
  }
}

GivenUp::Block GivenUp::blockOf(glm::dvec2 place) {
  constexpr double block_mm = 16;
  return {static_cast<int>(std::floor(place.x / block_mm)), static_cast<int>(std::floor(place.y / block_mm))};
}

bool foundMore(const MustHide& still, const GivenUp& given_up, const PlaceGrid& grid) {
  return std::any_of(still.eyes.begin(), still.eyes.end(), [&](const Eye& eye) {
    bool found = std::any_of(eye.others.begin(), eye.others.end(),
                             [&](glm::dvec2 place) { return !given_up.isNear(place); });
    eye.places.forEach([&](int column, int row) {
      found = found || !given_up.isNear({grid.x.at(column), grid.y.at(row)});
    });
    return found;
  });
}

}  // namespace petalproof
