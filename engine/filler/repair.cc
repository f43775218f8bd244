#include "engine/base/threads.h"
#include "engine/filler/internal/search.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cstddef>
#include <map>

namespace petalproof {
namespace {

constexpr int most_added = 60;

}  // namespace

// Whether a candidate can stand beside the chosen ones, within stock and faces.
bool FillerSearch::fitsBesideChosen(std::size_t number) const {
  const Candidate& one = candidates_[number];
  int used = 0;
  std::map<std::int32_t, double> taken;
  for (const FaceHidden& face : one.takes) taken[face.bloom] += face.places;
  for (const std::uint32_t k : chosen_) {
    const Candidate& other = candidates_[k];
    if (k == number || clash(one, other)) return false;
    used += other.kind == one.kind ? 1 : 0;
    for (const FaceHidden& face : other.takes) {
      const auto of_one = taken.find(face.bloom);
      if (of_one != taken.end()) of_one->second += face.places;
    }
  }
  const int stock = stockLeft(task_.plan, task_.maker)[one.kind];
  if (stock >= 0 && used >= stock) return false;
  return std::all_of(taken.begin(), taken.end(), [&](const std::pair<const std::int32_t, double>& face) {
    return face.second <= task_.sites.faceLimit(face.first);
  });
}

// A new cover hides what this one left bare and leaves other slivers: so keep this one, and add to it.
void FillerSearch::repair(const MustHide& all) {
  uncovered_ = leftBare(all);
  for (int added = 0; added < most_added && !uncovered_.empty() && !stop(); ++added) {
    std::vector<int> hidden(candidates_.size(), 0);
    forEach(candidates_.size(), [&](std::size_t k) {
      const FillerKind& kind = task_.maker.kinds()[candidates_[k].kind];
      std::vector<const Pair*> near;
      for (const Pair& pair : uncovered_)
        if (glm::length(placeOf(all, pair) - candidates_[k].site.board_mm) < kind.diameter_mm)
          near.push_back(&pair);
      if (near.empty() || !fitsBesideChosen(k)) return;
      std::map<std::uint32_t, Silhouette> seen;
      for (const Pair* pair : near) {
        const auto [known, fresh] = seen.try_emplace(pair->eye);
        if (fresh) known->second = silhouetteOf(task_.maker, candidates_[k], all.eyes[pair->eye].at);
        hidden[k] += hides(known->second, placeOf(all, *pair)) ? 1 : 0;
      }
    });
    const auto best = std::max_element(hidden.begin(), hidden.end());
    if (best == hidden.end() || *best == 0) return;
    chosen_.push_back(static_cast<std::uint32_t>(best - hidden.begin()));
    uncovered_ = leftBare(all);
  }
}

}  // namespace petalproof
