#include "engine/candidates/candidates.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace petalproof::candidates {

namespace {

// How far from its axis a filler may hide a place of the board plane from an eye.
struct Reach {
  double below_mm = std::numeric_limits<double>::infinity();  // for a filler at the eye's foot
  double aslant = 0;  // mm more for each mm between the axis and the eye's foot
};

Reach reachOf(const scene::FillerKind& kind, const Eye& eye) {
  // On the safe side: more than rounding changes.
  constexpr double rounded_up = 1.01;
  constexpr double margin_mm = 1;
  const scene::HandBuild::Farthest errors =
      eye.build != nullptr ? eye.build->farthest() : scene::HandBuild::Farthest();
  const double depth = kind.depth_mm * (rounded_up + errors.deeper);
  if (depth * 2 >= eye.at.z) return {};
  const double radius = kind.diameter_mm / 2 * (rounded_up + errors.larger);
  const double stretch = eye.at.z / (eye.at.z - depth);
  return {stretch * (radius + margin_mm + errors.aside_mm), stretch - 1};
}

}  // namespace

double reachOf(const scene::FillerKind& kind, const Eye& eye, glm::dvec2 at) {
  const Reach reach = reachOf(kind, eye);
  return reach.below_mm + reach.aslant * glm::length(at - glm::dvec2(eye.at));
}

Silhouette silhouetteOf(const scene::FillerMaker& maker, const Candidate& candidate, const Eye& eye) {
  const scene::FillerMaker::Hung hung =
      maker.hang(candidate.kind, candidate.site.from_corner_mm, candidate.turn_deg);
  glm::mat4x3 wallFromMesh = hung.wallFromMesh;
  if (eye.build != nullptr)
    wallFromMesh = eye.build->wallFromFiller(wallFromMesh, candidate.site.board_mm,
                                             maker.kinds()[candidate.kind].greenery);
  return silhouetteFrom(eye.at, *hung.mesh, wallFromMesh);
}

Silhouette silhouetteOf(const scene::FillerMaker& maker, const Candidate& candidate, const glm::dvec3& eye) {
  return silhouetteOf(maker, candidate, Eye{eye, nullptr, {}, {}});
}

bool mightHide(const scene::FillerMaker& maker, const Candidate& candidate, const Eye& eye,
               glm::dvec2 place) {
  return glm::length(place - candidate.site.board_mm) <=
         reachOf(maker.kinds()[candidate.kind], eye, candidate.site.board_mm);
}

// Solves reach = below + aslant * (off + reach): the axis is at most the place's distance off the eye's foot,
// plus its own distance from the place.
double farthestHider(const scene::FillerMaker& maker, const Eye& eye, glm::dvec2 place) {
  double most = 0;
  for (const scene::FillerKind& kind : maker.kinds()) {
    const Reach reach = reachOf(kind, eye);
    const double off = glm::length(place - glm::dvec2(eye.at));
    most = std::max(most, (reach.below_mm + reach.aslant * off) / (1 - reach.aslant));
  }
  return most;
}

PlaceBits hiddenBy(const scene::FillerMaker& maker, const Candidate& candidate, const glm::dvec3& eye,
                   const PlaceGrid& grid) {
  return placesHidden(silhouetteOf(maker, candidate, eye), grid);
}

void PairList::add(const MustHide& all, std::span<const Pair> pairs) {
  if (bins_count_ == 0) {
    bins_across_ = static_cast<int>(grid_.x.at(grid_.x.count() - 1) / bin_mm) + 1;
    bins_down_ = static_cast<int>(grid_.y.at(grid_.y.count() - 1) / bin_mm) + 1;
    const auto count = static_cast<std::size_t>(bins_across_) * static_cast<std::size_t>(bins_down_);
    bins_count_ = count;
  }
  bins_.resize(std::max(bins_.size(), all.eyes.size()), std::vector<Bin>(bins_count_));
  known_.resize(bins_.size() * 2);
  for (const Pair& pair : pairs) {
    if (!known_[pair.eye * 2 + (pair.on_grid ? 0 : 1)].insert(pair.index).second) continue;
    const glm::dvec2 at = pair.on_grid ? grid_.at(pair.index) : all.eyes[pair.eye].off_grid[pair.index];
    bins_[pair.eye][binOf(pair.eye, at)].pairs.push_back(static_cast<std::uint32_t>(pairs_.size()));
    pairs_.push_back(pair);
    at_.push_back(at);
  }
}

std::size_t PairList::binOf(std::uint32_t, glm::dvec2 at) const {
  const int column = std::clamp(static_cast<int>(std::floor(at.x / bin_mm)), 0, bins_across_ - 1);
  const int row = std::clamp(static_cast<int>(std::floor(at.y / bin_mm)), 0, bins_down_ - 1);
  return static_cast<std::size_t>(row * bins_across_ + column);
}

template <class Visit>
void PairList::forEachNear(std::size_t eye, const Silhouette& seen, std::size_t from,
                           const Visit& visit) const {
  const std::size_t low = binOf(0, seen.min_mm);
  const std::size_t high = binOf(0, seen.max_mm);
  const auto across = static_cast<std::size_t>(bins_across_);
  for (std::size_t row = low / across; row <= high / across; ++row)
    for (std::size_t column = low % across; column <= high % across; ++column) {
      const std::vector<std::uint32_t>& bin = bins_[eye][row * across + column].pairs;
      for (auto k = std::lower_bound(bin.begin(), bin.end(), from); k != bin.end(); ++k) {
        const glm::dvec2 at = at_[*k];
        if (at.x >= seen.min_mm.x && at.y >= seen.min_mm.y && at.x <= seen.max_mm.x && at.y <= seen.max_mm.y)
          visit(*k);
      }
    }
}

bool PairList::anyNear(const scene::FillerMaker& maker, const Candidate& candidate, const Eye& eye,
                       std::size_t number, std::size_t from) const {
  const glm::dvec2 at = candidate.site.board_mm;
  const double reach =
      std::min(farthest_reach_mm, reachOf(maker.kinds()[candidate.kind], eye, candidate.site.board_mm));
  const std::size_t low = binOf(0, at - reach);
  const std::size_t high = binOf(0, at + reach);
  const auto across = static_cast<std::size_t>(bins_across_);
  for (std::size_t row = low / across; row <= high / across; ++row)
    for (std::size_t column = low % across; column <= high % across; ++column) {
      const std::vector<std::uint32_t>& bin = bins_[number][row * across + column].pairs;
      if (!bin.empty() && bin.back() >= from) return true;
    }
  return false;
}

std::vector<std::uint32_t> PairList::hidden(const scene::FillerMaker& maker, const Candidate& candidate,
                                            const std::vector<Eye>& eyes, std::size_t from) const {
  constexpr std::ptrdiff_t few =
      24;  // pairs are tested one by one; for more all places of the grid are found
  std::vector<std::uint32_t> found;
  for (std::size_t eye = 0; eye < bins_.size(); ++eye) {
    if (!anyNear(maker, candidate, eyes[eye], eye, from)) continue;
    const Silhouette seen = silhouetteOf(maker, candidate, eyes[eye]);
    if (seen.triangles.empty()) continue;
    std::vector<std::uint32_t> near;
    forEachNear(eye, seen, from, [&](std::uint32_t k) { near.push_back(k); });
    const auto on_grid =
        std::count_if(near.begin(), near.end(), [&](std::uint32_t k) { return pairs_[k].on_grid; });
    const bool by_bits = on_grid > few;
    const PlaceBits bits = by_bits ? placesHidden(seen, grid_) : PlaceBits();
    for (const std::uint32_t k : near) {
      const Pair& pair = pairs_[k];
      const bool hidden = pair.on_grid && by_bits
                              ? bits.has(grid_.columnOf(pair.index), grid_.rowOf(pair.index))
                              : hides(seen, at_[k]);
      if (hidden) found.push_back(k);
    }
  }
  std::sort(found.begin(), found.end());
  return found;
}

}  // namespace petalproof::candidates
