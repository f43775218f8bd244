#include "engine/fill/internal/hidden_by_answer.h"

#include "engine/camera/projection.h"

#include "engine/check/lost_strip.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

namespace petalproof::fill {
namespace {

// From a pixel's centre to its farthest corner, on the board plane.
std::optional<double> halfFootprint_mm(const camera::Camera& camera, glm::dvec2 centre_px) {
  const auto centre = camera::boardPointOf(camera, {centre_px});
  if (!centre) return std::nullopt;
  double farthest = 0;
  for (const double x : {-0.5, 0.5})
    for (const double y : {-0.5, 0.5}) {
      const auto corner = camera::boardPointOf(camera, {centre_px + glm::dvec2(x, y)});
      if (!corner) return std::nullopt;
      farthest = std::max(farthest, glm::distance(corner->mm, centre->mm));
    }
  return farthest;
}

}  // namespace

HiddenByAnswer::HiddenByAnswer(const Filling& filling, const candidates::MustHide& first,
                               const std::vector<check::ShotCheck>& before,
                               const std::vector<candidates::Candidate>& chosen)
    : all_(filling.options.hide == Hide::all), eyes_(first.eyes.size()) {
  for (const check::ShotCheck& check : before) shots_.push_back(shotOf(filling, check));
  for (std::size_t eye = 0; eye < eyes_.size(); ++eye) {
    for (const candidates::Candidate& filler : chosen)
      eyes_[eye].fillers.push_back(candidates::silhouetteOf(filling.maker, filler, first.eyes[eye].at));
    for (std::size_t shot = 0; shot < before.size(); ++shot)
      if (before[shot].camera.position.mm == first.eyes[eye].at) eyes_[eye].shots.push_back(shot);
  }
}

HiddenByAnswer::Shot HiddenByAnswer::shotOf(const Filling& filling, const check::ShotCheck& check) {
  const Hide hide = filling.options.hide;
  Shot shot{
      &check, camera::pixelFromBoard(check.camera), {}, std::vector<double>(check.found.gaps.size(), 0)};
  for (std::size_t gap = 0; gap < check.found.gaps.size(); ++gap) {
    if (!candidates::mustHide(hide, check, check.found.gaps[gap])) continue;
    if (hide != Hide::all)
      shot.spots_mm[gap] =
          std::max(check::speck_mm, candidates::lostRim_mm(check, gap, hide, filling.base.plan.reading));
    for (const gaps::Run& run : check.found.gaps[gap].runs) shot.runs.push_back({run, gap});
  }
  std::sort(shot.runs.begin(), shot.runs.end(), [](const RunOfGap& a, const RunOfGap& b) {
    return std::pair(a.run.row, a.run.begin) < std::pair(b.run.row, b.run.begin);
  });
  return shot;
}

const HiddenByAnswer::RunOfGap* HiddenByAnswer::gapAt(const Shot& shot, glm::dvec2 pixel) {
  const auto after = std::upper_bound(
      shot.runs.begin(), shot.runs.end(), pixel, [](const glm::dvec2& at, const RunOfGap& one) {
        return std::pair(at.y, at.x) < std::pair<double, double>(one.run.row, one.run.begin);
      });
  if (after == shot.runs.begin()) return nullptr;
  const RunOfGap& found = *(after - 1);
  return found.run.row == pixel.y && pixel.x < found.run.end ? &found : nullptr;
}

// In a shot's picture; under `all` also in a pixel that it sees hidden, where another shot sees a bare one.
std::optional<double> HiddenByAnswer::howNearIn(const Shot& shot, glm::dvec2 place) const {
  const glm::dvec3 p = shot.pixel_from_board * glm::dvec3(place, 1.0);
  if (p.z <= 0) return std::nullopt;
  const glm::dvec2 pixel(std::floor(p.x / p.z), std::floor(p.y / p.z));
  const auto half_pixel = halfFootprint_mm(shot.check->camera, pixel + 0.5);
  if (all_ || !half_pixel) return half_pixel;
  const RunOfGap* found = gapAt(shot, pixel);
  if (found == nullptr) return std::nullopt;
  return *half_pixel + std::max(shot.spots_mm[found->gap] / 2, *half_pixel);
}

bool HiddenByAnswer::isHidden(const OfEye& eye, glm::dvec2 place) const {
  return std::any_of(eye.fillers.begin(), eye.fillers.end(),
                     [&](const candidates::Silhouette& filler) { return candidates::hides(filler, place); });
}

// Under `all` no gap is looked for, since specks are in none: then the largest pixel of the eye's shots is
// enough. Else each gap asks for its own distance, and the nearest is asked for by one of them.
std::optional<double> HiddenByAnswer::howNear(std::uint32_t eye, glm::dvec2 place) const {
  if (!isHidden(eyes_[eye], place)) return std::nullopt;
  std::optional<double> found;
  for (const std::size_t shot : eyes_[eye].shots) {
    const std::optional<double> near = howNearIn(shots_[shot], place);
    if (near) found = !found ? *near : all_ ? std::max(*found, *near) : std::min(*found, *near);
  }
  return found;
}

}  // namespace petalproof::fill
