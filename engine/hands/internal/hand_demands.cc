#include "engine/hands/internal/hand_demands.h"

#include "engine/candidates/silhouette.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace petalproof::hands {
namespace {

constexpr double bin_mm = 48;  // about a small filler's reach

std::size_t binsFor(double mm) { return static_cast<std::size_t>(std::max(0.0, mm) / bin_mm) + 1; }

std::size_t binAt(double mm, std::size_t bins) {
  return static_cast<std::size_t>(std::clamp(mm / bin_mm, 0.0, static_cast<double>(bins - 1)));
}

}  // namespace

HandDemands::HandDemands(const scene::FillerMaker& maker, glm::dvec2 wall_mm)
    : maker_(maker),
      bins_across_(binsFor(wall_mm.x)),
      bins_down_(binsFor(wall_mm.y)),
      bins_(bins_across_ * bins_down_) {}

std::uint32_t HandDemands::addView(const glm::dvec3& at, const scene::HandBuild* build,
                                   std::uint32_t number_of_build) {
  const auto number = static_cast<std::uint32_t>(eyes_.size());
  candidates::Eye eye;
  eye.at = at;
  eye.build = build;
  const bool known = std::any_of(apart_.begin(), apart_.end(), [&](std::uint32_t view) {
    return eyes_[view].at == at && (eyes_[view].build != nullptr || build == nullptr);
  });
  if (!known) apart_.push_back(number);
  eyes_.push_back(std::move(eye));
  builds_.push_back(number_of_build);
  return number;
}

void HandDemands::add(std::uint32_t view, const std::vector<glm::dvec2>& places_mm, float weight) {
  for (const glm::dvec2& place : places_mm) {
    bins_[binOf(place)].push_back(size());
    demands_.push_back({view, weight, place});
  }
}

std::size_t HandDemands::binOf(glm::dvec2 at) const {
  return binAt(at.y, bins_down_) * bins_across_ + binAt(at.x, bins_across_);
}

bool HandDemands::isHiddenBy(const candidates::Candidate& candidate, std::uint32_t k) const {
  const candidates::Eye& eye = eyes_[demands_[k].view];
  return candidates::mightHide(maker_, candidate, eye, demands_[k].at_mm) &&
         candidates::hides(candidates::silhouetteOf(maker_, candidate, eye), demands_[k].at_mm);
}

double HandDemands::reachOfAny(const candidates::Candidate& candidate) const {
  double reach = 0;
  for (const std::uint32_t view : apart_)
    reach = std::max(
        reach, candidates::reachOf(maker_.kinds()[candidate.kind], eyes_[view], candidate.site.board_mm));
  return std::min(reach, candidates::farthest_reach_mm);
}

std::vector<std::uint32_t> HandDemands::hiddenBy(const candidates::Candidate& candidate,
                                                 std::uint32_t from) const {
  const double reach = reachOfAny(candidate);
  const glm::dvec2 at = candidate.site.board_mm;
  std::vector<std::uint32_t> near;
  for (std::size_t row = binAt(at.y - reach, bins_down_); row <= binAt(at.y + reach, bins_down_); ++row)
    for (std::size_t column = binAt(at.x - reach, bins_across_); column <= binAt(at.x + reach, bins_across_);
         ++column) {
      const std::vector<std::uint32_t>& bin = bins_[row * bins_across_ + column];
      for (auto k = std::lower_bound(bin.begin(), bin.end(), from); k != bin.end(); ++k)
        if (glm::distance(demands_[*k].at_mm, at) <= reach) near.push_back(*k);
    }
  std::sort(near.begin(), near.end());  // views are numbered in order, and so are their demands
  std::vector<std::uint32_t> found;
  candidates::Silhouette seen;
  std::uint32_t seen_by = ~std::uint32_t{0};
  for (const std::uint32_t k : near) {
    const HandDemand& demand = demands_[k];
    if (!candidates::mightHide(maker_, candidate, eyes_[demand.view], demand.at_mm)) continue;
    if (demand.view != seen_by) seen = candidates::silhouetteOf(maker_, candidate, eyes_[demand.view]);
    seen_by = demand.view;
    if (candidates::hides(seen, demand.at_mm)) found.push_back(k);
  }
  return found;
}

}  // namespace petalproof::hands
