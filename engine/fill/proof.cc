#include "engine/fill/proof.h"

#include "engine/camera/projection.h"
#include "engine/fill/why_left.h"
#include "engine/gaps/bare_board.h"
#include "engine/visibility/coverage_bits.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

namespace petalproof::fill {
namespace {

std::vector<visibility::TriangleBatch> batchesOf(const scene::FillerMaker& maker,
                                                 std::span<const candidates::Candidate> chosen) {
  std::vector<visibility::TriangleBatch> batches;
  for (const candidates::Candidate& filler : chosen) {
    const scene::FillerMaker::Hung hung =
        maker.hang(filler.kind, filler.site.from_corner_mm, filler.turn_deg);
    batches.push_back({hung.mesh->vertices, hung.mesh->triangles, hung.wallFromMesh, 1, false});
  }
  return batches;
}

}  // namespace

Result<CheckedPlan> checkPlan(const Filling& filling, plan::LoadedPlan plan, const scene::Scene& scene,
                              const HowToCheck& how, check::ShotChecker& checker) {
  const FillOptions& options = filling.options;
  candidates::MustHideCollector collector(filling.grid, options.hide, filling.base.plan.reading);
  check::CheckOptions check;
  check.shots = options.shots;
  check.readings = options.hide != Hide::all || options.readings;
  check.lighting = how.lighting;
  check.progress = how.progress;
  check.stop = options.stop;
  const bool keeps_bare = how.rim || options.hide == Hide::all;
  std::vector<visibility::PixelMask> bare;
  check.on_shot = [&](const check::ShotCheck& shot, const visibility::VisibilityBuffer& seen) {
    visibility::PixelMask& mask = bare.emplace_back();
    if (keeps_bare) mask = gaps::bareMask(seen, scene.panels, filling.workers);
    collector.add(shot, mask, how.rim);
  };
  Result<check::Check> done = check::runCheck(plan, scene, check, checker);
  if (!done) return Result<CheckedPlan>::failure(std::move(done.problems));
  return Result<CheckedPlan>::success(
      {std::move(plan), std::move(*done.value), collector.take(), std::move(bare)});
}

QuickLook::QuickLook(const Filling& filling, const std::vector<check::ShotCheck>& before,
                     const std::vector<visibility::PixelMask>& bare)
    : filling_(filling),
      before_(before),
      bare_(bare),
      lost_(before, candidates::mostLeft(filling.options.hide), filling.base.plan.reading) {}

candidates::MustHide QuickLook::see(std::span<const candidates::Candidate> chosen) const {
  const std::vector<visibility::TriangleBatch> batches = batchesOf(filling_.maker, chosen);
  std::vector<check::ShotCheck> seen(before_.size());
  std::vector<visibility::PixelMask> bare(before_.size());
  filling_.workers.forEach(before_.size(), [&](std::size_t k) {
    throwIfStopAsked(filling_.options.stop);
    seen[k].shot = before_[k].shot;
    seen[k].camera = before_[k].camera;
    if (!visibility::CoverageRasteriser::holdsFor(seen[k].camera)) return;
    const Pool alone(1);
    visibility::CoverageRasteriser(alone).drawUncovered(batches, visibility::rasterViewOf(seen[k].camera),
                                                        bare_[k], bare[k]);
    seen[k].found = gaps::findGaps(bare[k], filling_.scene.panels, seen[k].camera, gaps::GapMeasures::all);
    const gaps::GapsOfShot& found = seen[k].found;
    seen[k].readings.resize(found.holes.size());
    for (const gaps::Gap& gap : found.gaps)
      if (lost_.wouldBeNoticed(k, found, gap))
        seen[k].readings[static_cast<std::size_t>(gap.hole) - 1].reads = reading::Reads::shows;
  });
  candidates::MustHideCollector collector(filling_.grid, filling_.options.hide, filling_.base.plan.reading);
  for (std::size_t k = 0; k < seen.size(); ++k) collector.add(seen[k], bare[k], false);
  return collector.take();
}

std::vector<GapLeft> gapsLeft(const check::Check& after, Hide hide) {
  std::vector<GapLeft> left;
  for (const check::ShotCheck& shot : after.shots)
    for (const gaps::Gap& gap : shot.found.gaps)
      if (candidates::mustHide(hide, shot, gap)) left.push_back({&shot, &gap});
  return left;
}

glm::dvec2 placeIn(const gaps::Gap& gap, const camera::Camera& camera) {
  const gaps::Run& run = gap.runs[gap.runs.size() / 2];
  const auto at = camera::boardPointOf(camera, {{(run.begin + run.end) / 2.0, run.row + 0.5}});
  return at ? at->mm : gap.centre_mm;
}

std::vector<LeftGap> leftWithReasons(const candidates::SearchTask& task, const check::Check& after, Hide hide,
                                     const std::vector<candidates::Candidate>& chosen,
                                     const std::vector<int>& wanted) {
  const std::vector<GapLeft> gaps = gapsLeft(after, hide);
  std::vector<LeftGap> left(gaps.size());
  task.workers.forEach(gaps.size(), [&](std::size_t k) {
    throwIfStopAsked(task.stop);
    const auto& [shot, gap] = gaps[k];
    WhyLeft why = whyLeft(task, shot->camera.position.mm, placeIn(*gap, shot->camera), chosen, wanted);
    left[k] = {check::idOf(*shot, *gap), std::move(why.words), why.by_plates};
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

bool foundMore(const candidates::MustHide& still, const GivenUp& given_up,
               const candidates::PlaceGrid& grid) {
  return std::any_of(still.eyes.begin(), still.eyes.end(), [&](const candidates::Eye& eye) {
    bool found = std::any_of(eye.others.begin(), eye.others.end(),
                             [&](glm::dvec2 place) { return !given_up.isNear(place); });
    eye.places.forEach([&](int column, int row) {
      found = found || !given_up.isNear({grid.x.at(column), grid.y.at(row)});
    });
    return found;
  });
}

}  // namespace petalproof::fill
